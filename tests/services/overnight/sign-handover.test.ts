import { createHash } from "node:crypto";
import { afterEach, beforeEach, expect, test } from "vitest";
import { handoverDraft, handoverView } from "#contract/handover.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { writeLog } from "#services/logbook/write-log.ts";
import { draftHandover, readHandover, readHandovers } from "#services/overnight/read-handovers.ts";
import { signHandover } from "#services/overnight/sign-handover.ts";
import { alarm, band, EVENING, finding, KEEPER, NOW, openWorld, system, type World } from "../world.ts";

let world: World;
let ringing: string;
beforeEach(async () => {
  world = await openWorld([system("reef"), system("kelp")], [band("reef")]);
  const open = finding(await world.stream("reef", "display", "temperature"), { severity: "action" });
  ringing = alarm(open).id;
  await world.evaluated({ findings: [open], alarms: [alarm(open)] });
});
afterEach(() => world.dispose());

const sign = (body: object) => signHandover({ ...world.write, ...world.read }, KEEPER, body);
const body = () => ({
  clientId: "desk-1",
  note: "A quiet night but one.",
  passesTo: "day shift",
  seen: [ringing],
});

test("the draft runs from the evening and names what is unanswered", async () => {
  const draft = await draftHandover(world.read);
  expect(handoverDraft.parse(draft)).toEqual(draft);
  expect(draft).toMatchObject({ from: EVENING, to: NOW, unanswered: [{ id: ringing, system: "reef" }] });
});

test("signing freezes what was known: what changes later does not change it, and its hash tells", async () => {
  const notes = [{ system: "reef", text: "Heater looked at." }];
  const { handover, repeated } = await sign({ ...body(), notes });
  expect(repeated).toBe(false);
  expect(handoverView.parse(handover)).toEqual(handover);
  expect(handover).toMatchObject({ signedBy: "keeper", passesTo: "day shift", notes: [{ name: "reef" }] });
  await world.evaluated({ alarms: [], transitions: [] });
  world.now = NOW + HOUR;
  expect(await readHandover(world.read, handover.id)).toEqual(handover);
  const stored = await world.store.readHandover({ id: handover.id });
  expect(
    createHash("sha256")
      .update(stored?.copy ?? "")
      .digest("hex"),
  ).toBe(handover.hash);
  expect((await sign({ ...body(), note: "sent again" })).handover).toEqual(handover);
  expect((await readHandovers(world.read)).handovers).toMatchObject([{ id: handover.id, unanswered: 1 }]);
  expect((await draftHandover(world.read)).from).toBe(NOW);
});

test("it says first to whom the unanswered passes, and nobody signs for an alarm they did not see", async () => {
  await expect(sign({ ...body(), passesTo: undefined })).rejects.toMatchObject({
    issues: [{ field: "passesTo" }],
  });
  await expect(sign({ ...body(), seen: [] })).rejects.toMatchObject({
    code: "conflict",
    issues: [{ field: "seen", value: ringing }],
  });
  expect((await readHandovers(world.read)).handovers).toEqual([]);
});

test("an acknowledged action stays unanswered until somebody logs the response", async () => {
  const [open] = await world.store.readFindings({ limit: 1 });
  if (!open) throw new Error("the world has a finding");
  await world.evaluated({
    alarms: [alarm(open, { state: "ACK", acknowledged: NOW, acknowledgedBy: "keeper" })],
  });
  const draft = await draftHandover(world.read);
  expect(draft.unanswered).toMatchObject([{ id: ringing, state: "ACK", asks: "response" }]);
  // The head of Overnight says the same as the dialog that hands on.
  expect(draft.overnight.summary).toMatchObject({ unanswered: 1, withoutResponse: 1, unlisted: 0 });
  const entry = {
    clientId: "r",
    kind: "note",
    systems: ["reef"],
    at: new Date(NOW - MINUTE).toISOString(),
    text: "Heater off.",
  };
  await writeLog(world.write, KEEPER, { ...entry, alarm: ringing });
  const answered = await draftHandover(world.read);
  expect(answered.unanswered).toEqual([]);
  expect(answered.overnight.summary).toMatchObject({ unanswered: 0, withoutResponse: 0 });
  expect(answered.overnight.responded).toEqual([ringing]);
});

test("Overnight counts what the handover passes on, also alarms of old nights and those whose finding was judged anew", async () => {
  const stream = await world.stream("kelp", "display", "temperature");
  const old = finding(stream, {
    id: "old",
    system: "s-kelp",
    began: NOW - 60 * HOUR,
    raised: NOW - 60 * HOUR,
    ended: NOW - 59 * HOUR,
    severity: "action",
  });
  const gone = finding(stream, { id: "gone", system: "s-kelp", severity: "action" });
  await world.evaluated({
    findings: [old],
    alarms: [
      alarm(old, { state: "RTN_UNACK", raised: NOW - 60 * HOUR, cleared: NOW - 59 * HOUR }),
      alarm(gone, { state: "RTN_UNACK", cleared: NOW - HOUR }),
    ],
  });
  const { unanswered, overnight } = await draftHandover(world.read);
  expect(unanswered).toHaveLength(3);
  expect(overnight.summary).toMatchObject({ unanswered: 3, withoutResponse: 0, unlisted: 1 });
});
