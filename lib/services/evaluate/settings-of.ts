/** Turns what is set up into evaluator settings, after making sure that every derived stream exists. */
import { missingDerivedStreams } from "#core/evaluate/derivations.ts";
import type { EvaluatorFacts, StreamFacts, VisitFacts } from "#core/evaluate/facts.ts";
import { compileSystem, type SystemSettings } from "#core/evaluate/settings.ts";
import type { ClockBook } from "#core/gateway/clock-book.ts";
import { isKnownStream, type KnownStream } from "#core/set-up/known-stream.ts";
import type { Habitat, SetUp, Source, Store } from "#store/port.ts";
import { readClockBook } from "../gateway/placed-readings.ts";

export interface CompiledSetUp {
  readonly systems: ReadonlyMap<string, SystemSettings>;
  /** Which system a stream belongs to. */
  readonly systemOf: ReadonlyMap<number, string>;
  readonly sources: ReadonlyMap<number, Source>;
  /** What is known of senders' clocks, and what people said about it. */
  readonly clocks: ClockBook;
}

function factsOf(
  setUp: SetUp,
  visits: readonly VisitFacts[] = [],
  lightPlans: Habitat["lightPlans"] = [],
): EvaluatorFacts[] {
  const systemOfStream = new Map(setUp.streams.map((stream) => [stream.id, stream.system]));
  return setUp.systems.flatMap((system) => {
    const site = setUp.sites.find((each) => each.id === system.site);
    if (!site) return [];
    const mine = <T extends { readonly system: string }>(rows: readonly T[]) =>
      rows.filter((row) => row.system === system.id);
    return [
      {
        system,
        zone: site.zone,
        elevation: site.elevation,
        streams: withTwins(mine(setUp.streams).filter(isKnownStream), setUp.points),
        bands: mine(setUp.bands),
        plans: mine(setUp.plans),
        visits: visits.filter((visit) => systemOfStream.get(visit.stream) === system.id),
        lightPlans: mine(lightPlans),
      },
    ];
  });
}

/** Names, for each stream at a point that is another's twin, the stream it is compared with. */
function withTwins(streams: readonly KnownStream[], points: SetUp["points"]): StreamFacts[] {
  return streams.map((stream) => {
    const twinOf = points.find((point) => point.id === stream.point)?.twinOf ?? null;
    const other = streams.find((each) => twinOf !== null && each.point === twinOf && isPair(each, stream));
    return { ...stream, twin: other?.id ?? null };
  });
}
const isPair = (a: KnownStream, b: KnownStream) => a.quantity === b.quantity && a.origin === b.origin;

/** Creates the derived streams that are needed and not there; true where it made any. */
async function createMissingDerivedStreams(store: Store, setUp: SetUp): Promise<boolean> {
  let created = false;
  const pointIds = new Map(setUp.points.map((point) => [`${point.system} ${point.code}`, point.id]));
  for (const facts of factsOf(setUp)) {
    for (const needed of missingDerivedStreams(facts)) {
      const exists = facts.streams.some(
        (stream) =>
          stream.origin === "derived" &&
          stream.quantity === needed.quantity &&
          stream.pointCode === needed.pointCode,
      );
      const point = pointIds.get(`${needed.system} ${needed.pointCode}`);
      if (exists || !point) continue;
      await store.ensureStream(point, needed.quantity, "derived", {
        interval: needed.interval,
        critical: false,
      });
      created = true;
    }
  }
  return created;
}

/** Read what is set up, create the derived streams it asks for, and compile it. */
export async function compileSetUp(store: Store): Promise<CompiledSetUp> {
  let setUp = await store.readSetUp();
  // What is computed may itself be what something else is computed from, so look again until nothing is missing.
  while (await createMissingDerivedStreams(store, setUp)) setUp = await store.readSetUp();
  const visits = (await store.readCalibrations()).flatMap(({ stream, from, at, kind, voided }) =>
    voided ? [] : [{ stream, from, at, isReset: kind !== "cleaning" }],
  );
  const { lightPlans } = await store.readHabitat();
  const systems = new Map(
    factsOf(setUp, visits, lightPlans).map((facts) => [facts.system.id, compileSystem(facts)]),
  );
  return {
    systems,
    systemOf: new Map(setUp.streams.map((stream) => [stream.id, stream.system])),
    sources: new Map(setUp.sources.map((source) => [source.id, source])),
    clocks: await readClockBook(store),
  };
}
