/** Senders whose clock is wrong, in words: ahead as the evaluator found it, behind as the shortest delays show it. */
import type { ClocksView, ClockView } from "#contract/clocks.ts";
import { clockBehind } from "#core/gateway/clock-behind.ts";
import { may } from "#core/people/index.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { durationText, longestText } from "#core/time/duration-text.ts";
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";
import { clockOf, type ZoneClock } from "#core/time/zone-clock.ts";
import type { Actor, ReadDeps } from "../deps.ts";
import { placeOf } from "../permission.ts";
import type { IndexedSetUp } from "../set-up.ts";
import { headSite } from "../systems/read-systems.ts";
import { type ClockGroup, readClockGroups } from "./clock-groups.ts";

/** Clocks that are right again and whose readings are placed are told for so long. */
const TOLD_FOR = 3 * DAY;
/** How far back it is looked for the beginning of a clock that is behind. */
const BEHIND_SPAN = 6 * HOUR;

type Reading = Pick<ReadDeps, "store" | "clock" | "setUp">;

/** Of the systems that may be seen; `actor` says what of it they may place. */
export async function readClocks(
  deps: Reading,
  actor: Pick<Actor, "grants"> | null = null,
): Promise<ClocksView> {
  const now = deps.clock();
  const index = await deps.setUp.read();
  const { zone } = headSite(index);
  const clock = clockOf(zone);
  const ahead = (await readClockGroups(deps.store)).flatMap(
    (group) => aheadView(group, index, actor, clock, now) ?? [],
  );
  return { now, zone, clocks: [...ahead, ...(await behindViews(deps, index, clock, now))] };
}

function seen(index: IndexedSetUp, streams: readonly number[]) {
  const systems = streams.flatMap((stream) => {
    const known = index.streams.get(stream);
    const at = known && index.byId.get(known.system);
    return at && index.systems.includes(at) ? [{ stream, at }] : [];
  });
  return {
    streams: systems.map(({ stream }) => stream),
    systems: [...new Map(systems.map(({ at }) => [at.system.id, at])).values()],
  };
}

const counted = (n: number, word: string) => `${n} ${word}${n === 1 ? "" : "s"}`;

function aheadView(
  group: ClockGroup,
  index: IndexedSetUp,
  actor: Pick<Actor, "grants"> | null,
  clock: ZoneClock,
  now: Instant,
): ClockView | null {
  const { id, since, until, offset, uncertainty, placement } = group;
  const { streams, systems } = seen(index, [...new Set(group.members.map(({ stream }) => stream))]);
  if (streams.length === 0) return null;
  if (placement !== null && until !== null && now - Math.max(until, placement.received) > TOLD_FOR)
    return null;
  const source =
    index.setUp.sources.find((each) => each.id === group.source)?.code ?? `source ${group.source}`;
  const when =
    until === null
      ? `since ${clock.dayClock(since)}`
      : `from ${clock.dayClock(since)} to ${clock.dayClock(until)}`;
  const of = `${counted(streams.length, "stream")} of ${counted(systems.length, "system")}`;
  const became =
    placement === null
      ? `What it sent is held: ${of}. It is not judged and not drawn as known until somebody places it.`
      : `What it sent is placed ${durationText(placement.offset)} earlier (${of}), by ${placement.by}.`;
  return {
    ...{ id, source, way: "ahead", offset, uncertainty, since, until, streams },
    systems: systems.map(({ system }) => system.code),
    state: placement === null ? "held" : "placed",
    placement: placement && {
      ...{ id: placement.id, offset: placement.offset, by: placement.by, at: placement.received },
    },
    mayPlace: actor !== null && systems.every((at) => may(actor.grants, "place-readings", placeOf(at))),
    says: `The clock of ${source} ${until === null ? "is" : "was"} ${durationText(offset)} ahead, perhaps ${longestText(uncertainty)} more, ${when}. ${became}`,
  };
}

async function behindViews(
  { store }: Pick<Reading, "store">,
  index: IndexedSetUp,
  clock: ZoneClock,
  now: Instant,
): Promise<ClockView[]> {
  const ids = index.systems.flatMap(({ streams }) =>
    streams.flatMap(({ id, origin }) => (origin === "probe" || origin === "equipment" ? [id] : [])),
  );
  const from = now - (now % QUARTER_HOUR) - BEHIND_SPAN;
  const rows = await store.readArrivals({ streams: ids, from, to: now + 1, width: QUARTER_HOUR });
  const views: ClockView[] = [];
  for (const { id, kind, code } of index.setUp.sources) {
    const own = kind === "gateway" || kind === "token" ? rows.filter((row) => row.source === id) : [];
    const found = clockBehind(own, now);
    if (!found) continue;
    const { streams, systems } = seen(index, [...new Set(own.map(({ stream }) => stream))]);
    const since = `${found.since <= from ? "at least since" : "since"} ${clock.dayClock(found.since)}`;
    views.push({
      ...{ id: `behind.${id}`, source: code, way: "behind", ...found, until: null, streams },
      systems: systems.map(({ system }) => system.code),
      ...{ state: "told", placement: null, mayPlace: false },
      says: `What ${code} sends comes ${durationText(found.offset)} after its own time, ${since}: its clock is behind by about that, or its messages take so long. It is judged at its own time.`,
    });
  }
  return views;
}
