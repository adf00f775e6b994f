/** What the invented people of the demo wrote goes through the verbs that real people use. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { ROLES } from "#core/people/index.ts";
import { DAY } from "#core/time/instant.ts";
import { acknowledgementEntry, logEntries } from "#ingest/demo/day-records.ts";
import { ensureDemoPeople, newPasswords } from "#ingest/demo/people.ts";
import { writeSetUp } from "#ingest/demo/write-set-up.ts";
import { openScenario } from "#ingest/scenario/load.ts";
import { eventsBetween } from "#ingest/scenario/records.ts";
import { uuidV7 } from "#services/new-id.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { type TemporaryStore, temporaryStore } from "../helpers/open-store.ts";

const scenario = openScenario(new URL("../../fixtures/pennacombe", import.meta.url).pathname);
const ANCHOR = Date.UTC(2026, 2, 2);
const END = ANCHOR + 14 * DAY;

let temporary: TemporaryStore;
beforeAll(async () => {
  temporary = await temporaryStore();
  await writeSetUp(temporary.store, scenario, ANCHOR, ANCHOR);
});
afterAll(() => temporary.dispose());

test("every event of the fourteen days becomes a log entry, twice loaded the same", async () => {
  const { store } = temporary;
  const writing = { setUp: createSetUpReader(store, () => END), newId: uuidV7 };
  const events = eventsBetween(scenario, ANCHOR, ANCHOR, END).filter((event) => event.kind !== "acknowledge");
  for (const _ of [1, 2]) {
    const entries = events.flatMap((event) => logEntries(store, writing, event, END));
    for (const entry of entries.sort((a, b) => a.at - b.at)) await entry.write();
  }
  const log = await store.readLog({ limit: 10_000 });
  expect(log).toHaveLength(events.length);
  const backwash = log.find((entry) => entry.versions[0]?.kind === "backwash");
  expect(backwash?.versions.map((version) => [version.change, version.open])).toEqual([
    ["first", true],
    ["close", false],
  ]);
  const late = log.find((entry) => entry.versions[0]?.text.startsWith("On site."));
  expect(late?.versions).toHaveLength(1);
  expect(await store.verifyAudit()).toMatchObject({ broken: null });
});

test("an acknowledgement of what does not ring writes nothing", async () => {
  const { store } = temporary;
  const writing = { setUp: createSetUpReader(store, () => END), newId: uuidV7 };
  const before = await store.verifyAudit();
  const [event] = eventsBetween(scenario, ANCHOR, ANCHOR, END).filter((one) => one.kind === "acknowledge");
  if (!event) throw new Error("the scenario has acknowledgements");
  await acknowledgementEntry(store, writing, event, () => true).write();
  expect(await store.verifyAudit()).toEqual(before);
});

test("one account a role, with one password for all where it is given, made once", async () => {
  const { store } = temporary;
  const passwords = newPasswords("tide-pool-3");
  const hash = async (password: string) => `hash of ${password}`;
  for (const _ of [1, 2]) await ensureDemoPeople(store, passwords, hash, uuidV7);
  const people = await store.readPeople(Date.now());
  expect(people.map((person) => person.userName)).toEqual([...ROLES].sort());
  for (const person of people)
    expect(person.grants).toEqual([{ role: person.userName, site: null, system: null }]);
  expect(new Set(Object.values(newPasswords(null))).size).toBe(ROLES.length);
});
