/** Who lives in the invented site, what they meet at home, and a year of quarter hours and light, written as the evaluator would. */
import type { Profile, ProfileEntry } from "#core/habitat/index.ts";
import { QUARTER_HOUR, type RollupRow, THREE_HOURS } from "#core/quality/rollup.ts";
import type { Resident } from "#core/set-up/set-up.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import type { NewReading, Store } from "#store/port.ts";

function entry(change: Partial<ProfileEntry>): ProfileEntry {
  return {
    quantity: "temperature",
    stage: null,
    month: null,
    low: null,
    typical: null,
    high: null,
    means: "author's stated range",
    kind: "advice",
    depth: null,
    place: "an invented coast",
    years: null,
    source: "common practice, no source",
    mark: "common practice, no source",
    method: null,
    confidence: "low",
    note: null,
    ...change,
  };
}
const profile = (
  species: string,
  latitude: number,
  longitude: number,
  entries: readonly ProfileEntry[],
  opened: number,
): Profile => ({
  id: `profile-${species}`,
  species,
  population: null,
  version: 1,
  latitude,
  longitude,
  entries,
  recordedAt: opened,
  recordedBy: "curator",
  reason: "first",
});
const resident = (system: string, species: string, count: number, from: number): Resident => ({
  id: `${system}/${species}`,
  animal: `${system}-${species}`,
  system,
  species,
  speciesName: species,
  population: null,
  name: null,
  sex: null,
  stage: "adult",
  count,
  from,
  to: null,
  ended: null,
});

// Scenario values, not sourced: eels that want it cold in winter beside fish that never want it below 15.
const EEL_LOW = [8, 8, 8, 8.4, 9.2, 10, 10.8, 11.4, 11.4, 10.2, 8, 8];
const EEL_HIGH = [12, 12.2, 12.6, 13.2, 14, 15.4, 16.6, 17.4, 17, 15.4, 12, 12];
const GARIBALDI_HIGH = [16.6, 16.4, 16.2, 16.2, 16.6, 17.4, 18.4, 19.2, 19.4, 18.8, 17.9, 17];
const GARIBALDI_LOW = [13.6, 13.3, 13, 12.6, 12.6, 13, 13.8, 14.4, 14.9, 14.9, 15, 14.3];
/** Mean of the German Bight by month. Source: COADS, box at 55 N 7 E, printed to 0.1. */
const BIGHT = [5.6, 4.2, 4.1, 5.7, 8.9, 12.8, 15.4, 16.5, 15.8, 13.8, 10.8, 8];

function rows(stream: number, from: number, to: number, mean: (at: number) => number): RollupRow[] {
  const of = (width: number, start: number): RollupRow => {
    const value = mean(start);
    return {
      stream,
      width,
      start,
      n: 3,
      good: 3,
      min: value,
      max: value,
      sum: value * 3,
      first: value,
      last: value,
    };
  };
  const all: RollupRow[] = [];
  for (let at = from; at < to; at += QUARTER_HOUR) all.push(of(QUARTER_HOUR, at));
  for (let at = from; at < to; at += THREE_HOURS) all.push(of(THREE_HOURS, at));
  return all;
}

export async function seedHomeWater(store: Store, now: number): Promise<void> {
  const opened = now - 400 * DAY;
  const monthly = (lows: readonly number[], highs: readonly number[], more: Partial<ProfileEntry>) =>
    lows.map((low, i) => entry({ month: i + 1, low, high: highs[i] ?? null, ...more }));
  const profiles = [
    profile(
      "wolf-eel",
      49,
      -125,
      [
        ...monthly(EEL_LOW, EEL_HIGH, {
          kind: "ambient",
          source: "an invented survey",
          mark: "read",
          confidence: "medium",
        }),
        ...monthly(EEL_LOW, EEL_HIGH, {}),
      ],
      opened,
    ),
    profile(
      "garibaldi",
      33,
      -117,
      [
        ...monthly(GARIBALDI_LOW, GARIBALDI_HIGH, {}),
        entry({ quantity: "salinity", low: 33, high: 34, kind: "ambient" }),
      ],
      opened,
    ),
    profile(
      "moon-jelly",
      55,
      7,
      [
        entry({ low: 12, high: 16 }),
        ...BIGHT.map((typical, i) =>
          entry({
            month: i + 1,
            typical,
            kind: "ambient",
            means: "monthly means",
            source: "COADS, box at 55 N 7 E",
            mark: "computed",
          }),
        ),
      ],
      opened,
    ),
  ];
  const species = profiles.map(({ species: id }) => ({
    id,
    name: id,
    scientific: null,
    group: null,
    development: [],
    mayDelay: null,
    delaySource: null,
    facts: [],
  }));
  const bramble: Resident = {
    ...resident("kelp-gallery", "wolf-eel", 1, opened),
    animal: "bramble",
    name: "Bramble",
    sex: "female",
  };
  await store.writeHabitat(
    {
      species,
      profiles,
      setUp: {
        residents: [
          resident("kelp-gallery", "garibaldi", 9, opened),
          resident("kelp-gallery", "wolf-eel", 2, opened),
          resident("jelly-ring", "moon-jelly", 90, opened),
          { ...bramble, id: "bramble-1", system: "jelly-ring", to: now - 200 * DAY, ended: "moved" },
          { ...bramble, id: "bramble-2", from: now - 200 * DAY },
        ],
      },
      watches: [
        {
          id: "watch-1",
          system: "kelp-gallery",
          animal: "kelp-gallery-wolf-eel",
          species: "wolf-eel",
          kind: "incubation",
          first: now - 100 * DAY,
          last: now - 90 * DAY,
          mayDelay: false,
          shortestDays: 99,
          longestDays: 120,
          source: "invented",
          narrowed: null,
          openedAt: now - 95 * DAY,
          openedBy: "curator",
          outcome: null,
          endedAt: null,
        },
      ],
      compromises: [
        {
          id: "compromise-1",
          system: "kelp-gallery",
          quantity: "temperature",
          months: [10, 11, 12, 1, 2, 3],
          lowSide: { species: "garibaldi", stage: "adult" },
          highSide: { species: "wolf-eel", stage: "adult" },
          low: 13,
          high: 14.5,
          actionLow: null,
          actionHigh: null,
          reason: "until the eels have a colder home",
          signedBy: "curator",
          signedAt: opened,
          validFrom: opened,
          validTo: null,
        },
      ],
      lightPlans: [
        {
          id: "light-1",
          system: "kelp-gallery",
          hours: [10.2, 11, 11.9, 13, 13.8, 14.3, 14.1, 13.4, 12.4, 11.4, 10.5, 10],
          middle: "13:00",
          latitude: 33,
          shiftDays: 0,
          validFrom: opened,
          validTo: null,
          setBy: "curator",
          recordedAt: opened,
          reason: "as at home",
          source: "day length at 33 N",
        },
      ],
    },
    [],
    now,
    { at: now, actor: "curator", actorId: "curator", verb: "seed", subject: "habitat", record: {} },
  );
  const start = Math.floor((now - 390 * DAY) / DAY) * DAY;
  const until = now - 3 * DAY;
  const season = (middle: number, swing: number) => (at: number) =>
    middle -
    swing * Math.cos((2 * Math.PI * (at - Date.UTC(2025, 1, 10))) / (365.25 * DAY)) +
    0.25 * Math.sin(at / (9 * DAY));
  const kelp = await store.ensureStream("kelp-gallery/display", "temperature", "probe");
  const salt = await store.ensureStream("kelp-gallery/display", "salinity", "probe");
  const jelly = await store.ensureStream("jelly-ring/display", "temperature", "probe");
  const lease = await store.acquireLease("evaluator", "seed", now, 60_000);
  if (!lease) throw new Error("the lease of a new store was not free");
  const cursor = await store.readCursor();
  await store.commitEvaluation(
    {
      replace: [],
      flags: [],
      derived: [],
      rollups: [
        ...rows(kelp.id, start, until, season(14.9, 1.2)),
        ...rows(salt.id, start, until, season(33.5, 0.1)),
        ...rows(jelly.id, start, until, season(14, 0.6)),
      ],
      findings: [],
      alarms: [],
      transitions: [],
      current: [],
      checkpoints: [],
      dropCheckpoints: [],
      streamsWithoutCurrent: [],
      rejudge: [],
      rejudged: [],
      cursor,
    },
    { seq: cursor.seq, lease, leaseName: "evaluator" },
  );
  await store.releaseLease("evaluator", lease);
  await light(store, now);
}

/** Ninety days of the kelp gallery's lamps, an hour early on the last six. */
async function light(store: Store, now: number): Promise<void> {
  const { id } = await store.ensureStream("kelp-gallery/display", "illuminance", "probe", {
    interval: 15 * MINUTE,
  });
  const source = await store.ensureSource("history", "history");
  const readings: NewReading[] = [];
  const from = Math.floor((now - 90 * DAY) / DAY) * DAY;
  for (let at = from; at < now - MINUTE; at += 15 * MINUTE) {
    const early = at > now - 6 * DAY ? HOUR : 0;
    const half = (11.2 * HOUR) / 2;
    const inside = half - Math.abs((at % DAY) + early - 13 * HOUR);
    const value = 0.8 + 900 * Math.min(1, Math.max(0, inside / (30 * MINUTE) + 0.5));
    readings.push({ stream: id, at, value, source: source.id, sequence: null, mark: null });
  }
  for (let i = 0; i < readings.length; i += 5_000)
    await store.append({ now, readings: readings.slice(i, i + 5_000), rejected: [], unclaimed: [] });
}
