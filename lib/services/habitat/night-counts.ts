import {
  type NightCountAnswer,
  type NightCountsView,
  type NightCountView,
  nightCountRequest,
} from "#contract/night-counts.ts";
import {
  type BreedingEvent,
  type BreedingWatch,
  type CountStand,
  countAsked,
  countWords,
  livingAt,
  type NightCount,
  watchedSpans,
} from "#core/habitat/index.ts";
import { HOUR, type Instant } from "#core/time/instant.ts";
import { lastLocalHour } from "#core/time/site-time.ts";
import type { Habitat } from "#store/port.ts";
import type { Actor, ReadDeps, WriteDeps } from "../deps.ts";
import { AppError, invalid, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { demandAt, demandSomewhere } from "../permission.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";
import { NIGHT_FROM } from "../systems/sweep.ts";
import { isRunning } from "../systems/system-state.ts";
import { logOf, momentOf, writeChange } from "./habitat-write.ts";
import { watchedName } from "./living-views.ts";
import { readPupPool } from "./pup-pool.ts";

/** A count that was not made by this hour of the site is due. Common practice, no source. */
const MORNING = 6;
const LONGEST_AGO = 36 * HOUR;

const nightAt = (now: Instant, zone: string) => {
  const from = lastLocalHour(now, zone, NIGHT_FROM);
  // The morning after that evening: in the last clock hour before noon of the day after, whatever the clocks did in between.
  return { from, morning: lastLocalHour(from + 18 * HOUR, zone, MORNING) };
};
const onRecordAt = (at: SystemSetUp, species: string, when: Instant) =>
  livingAt(at.residents, at.system.id, when)
    .filter((stay) => stay.species === species && stay.stage !== "egg or larva")
    .reduce((sum, { count }) => sum + count, 0);

interface Counted extends NightCount {
  readonly note: string | null;
}
function countOf(event: BreedingEvent) {
  const { counted, onRecord, note } = event.data as unknown as Counted;
  return { counted, onRecord, note, at: event.at, by: event.by, says: countWords({ counted, onRecord }) };
}

/** What a watch asks in a system tonight; null where it asks for nothing. */
function askedOf(
  watch: BreedingWatch,
  at: SystemSetUp,
  { breedingEvents }: Pick<Habitat, "breedingEvents">,
  now: Instant,
): { readonly stand: CountStand; readonly night: Instant; readonly count: NightCountView["count"] } | null {
  const night = nightAt(now, at.site.zone);
  const counts = breedingEvents.filter(
    (event) =>
      event.kind === "count" && event.watch === watch.id && event.at >= night.from && event.at <= now,
  );
  const spans = watchedSpans(watch, at.residents, at.system.id);
  if (watch.endedAt !== null && watch.endedAt <= now) return null;
  const stand = countAsked(
    spans,
    counts.map((event) => event.at),
    night,
    now,
  );
  const newest = counts.at(-1);
  return stand === null ? null : { stand, night: night.from, count: newest ? countOf(newest) : null };
}

/** What a watch asks where it counts: tonight's count, and the pool kept ready for the young. */
async function viewOf(
  deps: Pick<ReadDeps, "store">,
  index: IndexedSetUp,
  watch: BreedingWatch,
  at: SystemSetUp,
  habitat: Habitat,
  now: Instant,
): Promise<NightCountView | null> {
  const asked = askedOf(watch, at, habitat, now);
  // After a move the night is asked where the animal is now, not where it was in the evening.
  if (!asked || watchedSpans(watch, at.residents, at.system.id).every(({ to }) => to !== null && to <= now))
    return null;
  return {
    ...asked,
    watch: watch.id,
    system: at.system.code,
    systemName: at.system.name,
    zone: at.site.zone,
    who: watchedName(watch, at),
    kind: watch.kind,
    onRecord: onRecordAt(at, watch.species, now),
    pool: await readPupPool(deps, index, watch, at, habitat.breedingEvents, now),
  };
}

const ORDER: readonly CountStand[] = ["due", "asked", "done"];

/** The counts that open breeding watches ask for tonight, where each counts; what is due first. A watch ended, or not in its window, asks for none. */
export async function readNightCounts(deps: ReadDeps): Promise<NightCountsView> {
  const now = deps.clock();
  const [index, habitat] = await Promise.all([deps.setUp.read(), deps.store.readHabitat()]);
  const open = habitat.watches.filter((watch) => watch.endedAt === null);
  const pairs = index.systems
    .filter((at) => isRunning(at, now))
    .flatMap((at) => open.map((watch) => viewOf(deps, index, watch, at, habitat, now)));
  const counts = (await Promise.all(pairs)).filter((view): view is NightCountView => view !== null);
  counts.sort(
    (a, b) =>
      ORDER.indexOf(a.stand) - ORDER.indexOf(b.stand) || a.systemName.localeCompare(b.systemName, "en"),
  );
  return { now, counts };
}

/** Where a watch asks for a count at an instant: the running system in which it counts then; undefined where it counts nowhere. */
const placeOf = (index: IndexedSetUp, watch: BreedingWatch, when: Instant) =>
  index.systems.find((at) =>
    watchedSpans(watch, at.residents, at.system.id).some(
      (span) => span.from <= when && (span.to === null || when < span.to),
    ),
  );

/**
 * Writes down a nightly count for a breeding watch, once a client id, beside what is on record there; in the logbook too. A count that is off
 * changes no residents: it asks to be counted again. Throws AppError "forbidden", "not_found", "conflict" where the watch has ended or is not in its
 * window then, or "invalid".
 */
export async function recordNightCount(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<NightCountAnswer> {
  demandSomewhere(actor, "write-log");
  const request = parse(nightCountRequest, body);
  const [index, habitat] = await Promise.all([deps.setUp.read(), deps.store.readHabitat()]);
  const watch = habitat.watches.find((each) => each.id === id);
  const home = watch && index.byId.get(watch.system);
  if (!watch || !home)
    throw notFound("breeding watch", id, "GET /api/v1/night-counts lists those that ask for a count.");
  const now = deps.clock();
  const when = momentOf("at", request.at, now);
  const at = placeOf(index, watch, when) ?? home;
  demandAt(actor, "write-log", at);
  const eventId = `count-${request.clientId}`;
  const known = habitat.breedingEvents.find((event) => event.id === eventId);
  if (known) return { id: eventId, received: known.recordedAt, repeated: true, count: countOf(known) };
  if (when > now || when < now - LONGEST_AGO)
    throw invalid([
      {
        field: "at",
        value: new Date(when).toISOString(),
        says: when > now ? "is in the future" : "is more than 36 hours ago",
        remedy: "give the time of the count; write an older one in the logbook",
      },
    ]);
  if (watch.endedAt !== null && watch.endedAt <= when)
    throw new AppError("conflict", "This watch has ended: no more counts are needed.");
  if (placeOf(index, watch, when) === undefined)
    throw new AppError("conflict", "This watch is outside its window at that time: no count is needed.");
  const data: Counted = {
    counted: request.counted,
    onRecord: onRecordAt(at, watch.species, when),
    note: request.note?.trim() || null,
  };
  const event: BreedingEvent = {
    id: eventId,
    watch: watch.id,
    system: at.system.id,
    animal: watch.animal,
    kind: "count",
    at: when,
    data: { ...data },
    by: actor.name,
    recordedAt: now,
    supersedes: null,
  };
  const who = watchedName(watch, at);
  const log = {
    ...logOf(deps, actor, now, {
      kind: "round",
      systems: [at.system.id],
      at: when,
      text: `Night count, watch of ${who}: ${countWords(data)}${data.note === null ? "" : `. ${data.note}`}`,
      animals: [who],
      amount: data.counted,
    }),
    clientId: eventId,
  };
  const { received } = await writeChange(
    deps,
    actor,
    now,
    "record-night-count",
    `breeding-watch:${watch.id}`,
    eventId,
    { breedingEvents: [event], log: [log] },
    [],
  );
  return { id: eventId, received, repeated: false, count: countOf(event) };
}
