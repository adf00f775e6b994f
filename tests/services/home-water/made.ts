/** A made-up kelp hall for home water: two species that disagree in winter, a year of quarter hours, light, and the habitat of both. */

import type { Profile, ProfileEntry, Stage } from "#core/habitat/index.ts";
import { QUARTER_HOUR, type RollupRow, THREE_HOURS } from "#core/quality/rollup.ts";
import type { Resident } from "#core/set-up/set-up.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import { siteDay } from "#core/time/site-time.ts";
import { audited } from "#services/permission.ts";
import { actorWith, openWorld, system, type World, ZONE } from "../world.ts";

export const CURATOR = actorWith("curator", "curator");
const OPENED = Date.UTC(2025, 0, 1);

export function entry(change: Partial<ProfileEntry>): ProfileEntry {
  return {
    quantity: "temperature",
    stage: null,
    month: null,
    low: null,
    typical: null,
    high: null,
    means: "author's stated range",
    kind: "ambient",
    depth: null,
    place: "a made-up reef",
    years: null,
    source: "a made-up survey",
    mark: "read",
    method: null,
    confidence: "medium",
    note: null,
    ...change,
  };
}

export const profile = (
  species: string,
  entries: readonly ProfileEntry[],
  more: Partial<Profile> = {},
): Profile => ({
  id: `profile-${species}`,
  species,
  population: null,
  version: 1,
  latitude: 33,
  longitude: -117,
  entries,
  recordedAt: OPENED,
  recordedBy: "curator",
  reason: "first",
  ...more,
});

export const stay = (id: string, species: string, more: Partial<Resident> = {}): Resident => ({
  id,
  animal: `animal-${id}`,
  system: "s-kelp",
  species,
  speciesName: species,
  population: null,
  name: null,
  sex: null,
  stage: "adult" as Stage,
  count: 1,
  from: OPENED,
  to: null,
  ended: null,
  ...more,
});

/** Rows of a stream from an instant to another: its mean by time; `gap` says where nothing good was read. */
export function rollupsOf(
  stream: number,
  from: Instant,
  to: Instant,
  mean: (at: Instant) => number,
  gap: (at: Instant) => boolean = () => false,
): RollupRow[] {
  const rows: RollupRow[] = [];
  const add = (width: number, start: Instant, value: number, good: number) =>
    rows.push({
      stream,
      width,
      start,
      n: 3,
      good,
      min: value,
      max: value,
      sum: value * good,
      first: value,
      last: value,
    });
  for (let at = from; at < to; at += QUARTER_HOUR) add(QUARTER_HOUR, at, mean(at), gap(at) ? 0 : 3);
  for (let at = from; at < to; at += THREE_HOURS) add(THREE_HOURS, at, mean(at), gap(at) ? 0 : 36);
  for (let day = siteDay(from, ZONE); day.start < to; day = siteDay(day.end, ZONE))
    add(DAY, day.start, mean(day.start), 288);
  return rows;
}

/** The hall at noon of 20 November 2026, with the residents and profiles given. */
export async function openHall(residents: readonly Resident[], profiles: readonly Profile[]): Promise<World> {
  const world = await openWorld([system("kelp"), system("rays")]);
  world.now = Date.UTC(2026, 10, 20, 12);
  await world.store.writeHabitat(
    { species: speciesOf(residents), profiles, setUp: { residents } },
    [],
    OPENED,
    audited(CURATOR, OPENED, "made", "habitat:made", {}),
  );
  return world;
}

function speciesOf(residents: readonly Resident[]) {
  return [...new Set(residents.map((each) => each.species))].map((id) => ({
    id,
    name: id,
    scientific: null,
    group: null,
    development: [],
    mayDelay: null,
    delaySource: null,
    facts: [],
  }));
}
