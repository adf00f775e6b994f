/** What the set-up page says of points: what each is for, and where that is only a guess. */
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { PointsSection } from "#app/set-up/_parts/systems/points-section.tsx";
import { RoleSelect } from "#app/set-up/_parts/systems/role-select.tsx";
import type { SystemSetUpView } from "#contract/set-up-forms.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { POINT_ROLE_IDS } from "#core/set-up/point-role.ts";
import { POINT_ROLE_WORDS } from "#core/set-up/point-role-words.ts";

const point = (code: string, more: Partial<SystemSetUpView["points"][number]> = {}) => ({
  id: `p-${code}`,
  code,
  role: guessedRole(code),
  roleGuessed: false,
  twinOf: null,
  ...more,
});
const setUp: SystemSetUpView = {
  system: "reef",
  site: "harbour",
  siteName: "Harbour Hall",
  zone: "Europe/London",
  name: "Reef",
  kind: "corals",
  type: "exhibit",
  startingBands: "coral reef",
  water: "marine",
  volume: 10,
  duty: null,
  youngFilter: false,
  opened: 0,
  closed: null,
  loops: [],
  points: [
    point("treatment-loop", { role: "contact-chamber" }),
    point("make-up", { roleGuessed: true }),
    point("display-2", { twinOf: "display" }),
  ],
  streams: [],
};
const drawn = (may: boolean) =>
  renderToStaticMarkup(<PointsSection setUp={setUp} may={may} onChange={() => undefined} />);

test("every point says what it is for, and a guess says that it is one", () => {
  const [, contact = "", makeUp = "", twin = ""] = drawn(true).split("<li>");
  expect(contact).toContain("Contact chamber ·");
  expect(contact).not.toContain("guessed");
  expect(makeUp).toContain("Make-up, guessed from its name ·");
  expect(twin).toMatch(/Exhibit ·.*second probe of/);
});

test("only who may change systems is offered to change it", () => {
  expect(drawn(true)).toContain('aria-label="Change what treatment loop is for"');
  expect(drawn(false)).not.toContain("<button");
});

test("every role can be chosen with what belongs there, and the guess from a name stands first", () => {
  const html = renderToStaticMarkup(
    <RoleSelect links={{}} chosen={null} guess={guessedRole("sump-2")} onChange={() => undefined} />,
  );
  const options = [...html.matchAll(/<option[^>]*>([^<]*)</g)].map((match) => match[1]);
  expect(options[0]).toBe("a guess from its name: Sump");
  expect(options.slice(1)).toEqual(
    POINT_ROLE_IDS.map((id) =>
      `${POINT_ROLE_WORDS[id].label}: ${POINT_ROLE_WORDS[id].hint}`.replaceAll("'", "&#x27;"),
    ),
  );
});
