import type { HeldView, MonthOfLife, QuantityOfVisit } from "#contract/animal-water.ts";
import {
  addTallies,
  fitOf,
  type MonthHalf,
  monthHalves,
  openStretch,
  quartersIn,
  type Stretch,
  siteMonths,
  stretchesOf,
  type Tally,
} from "#core/fit/index.ts";
import { profileFor, type Visit } from "#core/habitat/index.ts";
import { mergedSpans, type Ribbon, ribbonOf } from "#core/home-water/index.ts";
import { streamFor } from "#core/light/index.ts";
import type { Resident } from "#core/set-up/set-up.ts";
import type { Span } from "#core/time/spans.ts";
import type { Habitat, Store, Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";
import { spreadOf, threeHourMeans } from "./monthly-water.ts";
import { yearAt } from "./read-fits.ts";

type Stage = Resident["stage"];

/** A stage an animal had in a visit: what its species meets at home then, and when it had it. */
interface Staged {
  readonly stage: Stage;
  readonly ribbon: Ribbon;
  readonly spans: readonly Span[];
}
interface Slot extends Span {
  readonly year: number;
  readonly month: number;
  readonly halves: readonly MonthHalf[];
}
/** One month of one quantity: what is to be counted of it. */
interface AskedMonth {
  readonly slot: Slot;
  readonly read: readonly Stretch[];
  readonly held: readonly { readonly staged: Staged; readonly stretches: readonly Stretch[] }[];
}
export interface QuantityRequest {
  readonly quantity: string;
  readonly stream: Stream | undefined;
  readonly within: Span;
  readonly staged: readonly Staged[];
  readonly months: readonly AskedMonth[];
}

function slotsOf(zone: string, { from, to }: Span): Slot[] {
  if (from >= to) return [];
  const [first, last] = [yearAt(from, zone), yearAt(to - 1, zone)];
  const years = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return years.flatMap((year) => {
    const halves = monthHalves(year, zone);
    return siteMonths(year, zone)
      .filter((month) => month.from < to && month.to > from)
      .map(({ month, from: begins, to: ends }) => ({
        year,
        month,
        from: Math.max(begins, from),
        to: Math.min(ends, to),
        halves: halves.filter((half) => half.month === month),
      }));
  });
}

function stagesOf(habitat: Habitat, stays: readonly Resident[], quantity: string, within: Span): Staged[] {
  const stages = [...new Set(stays.map(({ stage }) => stage))];
  return stages.flatMap((stage) => {
    const own = stays.filter((stay) => stay.stage === stage);
    const [first] = own;
    const profile = first && profileFor(habitat.profiles, first.species, first.population);
    const ribbon = profile ? ribbonOf(profile, quantity, stage) : null;
    if (!ribbon) return [];
    const spans = own.map(({ from, to }) => ({
      from: Math.max(from, within.from),
      to: Math.min(to ?? within.to, within.to),
    }));
    return [{ stage, ribbon, spans: mergedSpans(spans) }];
  });
}

/** What is to be counted of a visit: for each quantity and site-local month the quarter hours read, and those compared with each stage's range. */
export function askedOfVisit(
  at: SystemSetUp,
  habitat: Habitat,
  { stays, from, to }: Visit<Resident>,
  quantities: readonly string[],
  view: Span,
): QuantityRequest[] {
  const within = { from: Math.max(from, view.from), to: Math.min(to ?? view.to, view.to) };
  const slots = slotsOf(at.site.zone, within);
  return quantities.map((quantity) => {
    const stream = streamFor(at.streams, quantity);
    // Where nothing measures it there is nothing to compare with a range, and the time still counts as lived and not read.
    const staged = stream ? stagesOf(habitat, stays, quantity, within) : [];
    const id = stream?.id ?? 0;
    const months = slots.map((slot) => ({
      slot,
      read: openStretch(id, slot.from, slot.to),
      held: staged.map((each) => ({
        staged: each,
        stretches: each.spans.flatMap((span) =>
          stretchesOf(
            id,
            each.ribbon.months,
            slot.halves,
            Math.max(span.from, slot.from),
            Math.min(span.to, slot.to),
          ),
        ),
      })),
    }));
    return { quantity, stream, within, staged, months };
  });
}

/** Every stretch that is asked of the store, in the order in which `tallied` takes the answers. */
export const stretchesAsked = (asked: readonly QuantityRequest[]): Stretch[] =>
  asked.flatMap(({ stream, months }) =>
    stream
      ? months.flatMap(({ read, held }) => [...read, ...held.flatMap(({ stretches }) => stretches)])
      : [],
  );

/** A quantity of a visit counted, with the tallies its totals are added from. */
export interface QuantityTally {
  readonly view: QuantityOfVisit;
  readonly staged: readonly Staged[];
  readonly held: readonly {
    readonly basis: HeldView["basis"];
    readonly tally: Tally;
    readonly possible: number;
  }[];
}

/** Answers of the store in the order asked, taken one after the other. */
export function taker(tallies: readonly Tally[]): (count: number) => Tally {
  let taken = 0;
  return (count) => {
    taken += count;
    return addTallies(tallies.slice(taken - count, taken));
  };
}

/** Counts a visit's quantity: months and the whole of it, from the store's tallies and its three-hour means. */
export async function countedVisit(
  store: Store,
  asked: QuantityRequest,
  take: (count: number) => Tally,
): Promise<QuantityTally> {
  const { quantity, stream, within, staged, months } = asked;
  const means = stream ? await threeHourMeans(store, stream, within) : [];
  const sums = new Map<Staged, { readonly tally: Tally; readonly possible: number }>();
  const views = months.map(({ slot, read, held }): MonthOfLife => {
    const { n: good } = stream ? take(read.length) : addTallies([]);
    const heldViews = held.flatMap(({ staged: each, stretches }): HeldView[] => {
      const tally = take(stretches.length);
      if (stretches.length === 0) return [];
      const possible = quartersIn(stretches);
      const sum = sums.get(each);
      sums.set(each, {
        tally: addTallies(sum ? [sum.tally, tally] : [tally]),
        possible: possible + (sum?.possible ?? 0),
      });
      const range = each.ribbon.months[slot.month - 1] ?? null;
      return [
        {
          stage: each.stage,
          basis: each.ribbon.basis,
          range: range && { low: range.low, high: range.high },
          fit: fitOf(tally, possible),
        },
      ];
    });
    return {
      year: slot.year,
      month: slot.month,
      from: slot.from,
      to: slot.to,
      water: spreadOf(means.flatMap(([when, value]) => (when < slot.from || when >= slot.to ? [] : [value]))),
      read: { good, possible: quartersIn(read) },
      held: heldViews,
    };
  });
  const held = [...sums].map(([each, sum]) => ({ each, ...sum }));
  return {
    staged,
    held: held.map(({ each, tally, possible }) => ({ basis: each.ribbon.basis, tally, possible })),
    view: {
      quantity,
      point: stream?.pointCode ?? null,
      origin: stream?.origin ?? null,
      water: spreadOf(means.map(([, value]) => value)),
      read: {
        good: views.reduce((sum, { read }) => sum + read.good, 0),
        possible: views.reduce((sum, { read }) => sum + read.possible, 0),
      },
      held: held.map(({ each, tally, possible }) => ({
        stage: each.stage,
        basis: each.ribbon.basis,
        range: null,
        fit: fitOf(tally, possible),
      })),
      months: views,
    },
  };
}
