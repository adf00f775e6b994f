/** Causes are told by what a point is for. The stories are invented. */
import { expect, test } from "vitest";
import { likelyCauses, type Seen } from "#core/incidents/cause.ts";
import type { PointRole } from "#core/set-up/point-role.ts";
import { after, seen, step, still } from "./story.ts";

const ids = (of: Seen) => likelyCauses(of).map(({ id }) => id);
/** The story with the points of these names used for something. */
const used = (of: Seen, roles: Readonly<Record<string, PointRole>>): Seen => ({
  ...of,
  signs: of.signs.map((sign) => ({
    ...sign,
    track: { ...sign.track, role: roles[sign.track.point] ?? sign.track.role },
  })),
});

test("a fouled contact probe is known at a point called treatment-loop, and not at a pool called contact-lens-pool", () => {
  const fouled = (point: string) =>
    seen({
      probes: {
        orp: after(330, 30),
        [`orp/${point}`]: step(720, 655),
        [`ozone_output/${point}`]: step(40, 100),
      },
    });
  expect(ids(used(fouled("treatment-loop"), { "treatment-loop": "contact-chamber" }))).toContain(
    "contact-orp-fouled",
  );
  expect(ids(used(fouled("contact-lens-pool"), { "contact-lens-pool": "exhibit" }))).not.toContain(
    "contact-orp-fouled",
  );
});

test("water of a make-up tank, of a loop and the air of a room are no sign that the animals' water warms", () => {
  const warm = seen({
    probes: { temperature: still(14), "temperature/aside": after(14, 0.5) },
    elsewhere: { temperature: "steady" },
  });
  expect(ids(used(warm, { aside: "sump" }))).toContain("warming");
  for (const role of ["make-up", "loop-supply", "loop-return", "room-air"] as const)
    expect(ids(used(warm, { aside: role })), role).not.toContain("warming");
});

test("low ORP is an anoxic pocket at a filter, whatever it is called", () => {
  const low = seen({ probes: { orp: still(330), "orp/media-bed": after(200, -60) } });
  expect(ids(used(low, { "media-bed": "filter" }))).toContain("anoxic");
  expect(ids(used(low, { "media-bed": "other" }))).not.toContain("anoxic");
});

test("the level that rises when a pump stops is a sump's", () => {
  const stopped = (role: PointRole) =>
    likelyCauses(
      used(seen({ probes: { flow: step(60, 0), "level/basin": step(1400, 1500) } }), { basin: role }),
    ).find(({ id }) => id === "pump-stopped");
  expect(stopped("sump")?.for).toContain("sump level rises");
  expect(stopped("other")?.for).not.toContain("sump level rises");
  expect(stopped("other")?.notMeasured).toContain("sump level rises");
});
