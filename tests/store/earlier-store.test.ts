/** A store that earlier code made (fixtures/earlier-store) opens, is brought up to date, shows the same numbers and goes on. */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { claimsOf } from "../helpers/evaluated.ts";
import { firstDifference } from "../helpers/first-difference.ts";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";
import { ASKED_AT, answersOf } from "./earlier-store/answers.ts";
import { differences, withoutWords } from "./earlier-store/compare.ts";
import { goOn, judgeAnew } from "./earlier-store/go-on.ts";
import {
  earlierAnswers,
  type Opened,
  openEarlierPostgres,
  openEarlierSqlite,
} from "./earlier-store/open-earlier.ts";

/** A whole store is read through, and judged twice: far more than it takes, for a machine that does much else. */
const LONG = { timeout: 240_000 };

/** As it is written to a file: a key without a value is no key. */
const asWritten = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

async function within<T>(open: () => Promise<Opened>, use: (opened: Opened) => Promise<T>): Promise<T> {
  const opened = await open();
  try {
    return await use(opened);
  } finally {
    await opened.dispose();
  }
}

/** Formulas of derived values are stored in the words of their time; where these changed, what stands for the same equation. */
const REWORDED: readonly (readonly [before: string, now: string])[] = [
  ["; standard air at", "; standard pressure at"],
];
/**
 * How far the light is off is a median over days: of an even count the earlier code took the upper of the two middle ones, and so kept the
 * evidence of another day. When such findings began and ended is compared all the same.
 */
const isLightEvidence = (holder: unknown, key: string): boolean =>
  key === "evidence" &&
  typeof holder === "object" &&
  holder !== null &&
  "kind" in holder &&
  holder.kind === "light off";
/** What the earlier code had raised stands as it raised it; what is raised from then on is the same however it is reached. */
function raisedSince(claims: Record<string, unknown>): Record<string, unknown> {
  const findings = claims.findings as readonly { readonly raised: number }[];
  return { ...claims, findings: findings.filter(({ raised }) => raised >= ASKED_AT) };
}
const inPresentWords = (claims: unknown): Record<string, unknown> => {
  const text = JSON.stringify(claims, function (key, value) {
    return isLightEvidence(this, key) ? null : value;
  });
  return JSON.parse(REWORDED.reduce((words, [before, now]) => words.replaceAll(before, now), text)) as Record<
    string,
    unknown
  >;
};

function suite(open: () => Promise<Opened>): void {
  it("shows the numbers, instants, ids, flags and states that it showed then", LONG, async () => {
    const now = await within(open, ({ store }) => answersOf(store));
    expect(differences(await earlierAnswers(), withoutWords(asWritten(now)))).toEqual([]);
  });

  it("goes on from what was judged then, to what judging all of it anew claims", LONG, async () => {
    await within(open, async ({ store }) => {
      const before = await store.readFindings({ limit: 10_000 });
      const isOpen = (id: string) => before.some((row) => row.id === id && row.ended === null);
      const end = await goOn(store);
      const after = await store.readFindings({ limit: 10_000 });
      const known = new Set(before.map(({ id }) => id));
      expect(after.filter(({ id, began }) => !known.has(id) && began >= ASKED_AT)).not.toEqual([]);
      expect(after.filter(({ id, ended }) => isOpen(id) && ended !== null)).not.toEqual([]);
      const claims = raisedSince(inPresentWords(asWritten(await claimsOf(store))));
      const { counts } = await store.status();
      expect(await judgeAnew(store, end)).toBeGreaterThanOrEqual(counts.readings);
      const anew = raisedSince(inPresentWords(asWritten(await claimsOf(store))));
      expect(firstDifference(anew, claims)).toBeNull();
    });
  });
}

describe("an earlier store in SQLite", () => suite(openEarlierSqlite));

const missing = await postgresMissing();
describe.skipIf(missing !== null)(
  `an earlier store in PostgreSQL${missing === null ? "" : ` (skipped: ${missing})`}`,
  () => {
    let server: PostgresServer;
    beforeAll(async () => {
      server = await startPostgres();
    });
    afterAll(async () => {
      await server.stop();
    });
    suite(() => openEarlierPostgres(server));
  },
);
