import type { SystemState } from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import { type Heading, type TimeLeft, timeLeft } from "#core/forecast/time-left.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { Finding, Stream } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import { eventBegan, isDoubtful, isFast, readEvents, readRecent, recentSince } from "./ahead.ts";

interface TimeLeftRequest {
  readonly finding: string;
  readonly stream: number;
  readonly heading: Heading;
  /** Whether its course was measured: neither a bench test nor what is carried from one, and no probe in doubt. */
  readonly isMeasured: boolean;
}

const NONE: Heading["recent"] = [];
const nothing = (): null => null;

function groupByStream(open: readonly Finding[]): ReadonlyMap<number, Finding[]> {
  const byStream = new Map<number, Finding[]>();
  for (const row of open) byStream.set(row.stream, [...(byStream.get(row.stream) ?? []), row]);
  return byStream;
}

/** The way that all of these findings go. */
function wayOf(fast: readonly Finding[]): 1 | -1 | undefined {
  const ways = new Set(fast.map(({ rule }) => (rule === "rising" ? 1 : -1)));
  const [way] = ways;
  return ways.size === 1 ? way : undefined;
}

function askedOf(
  open: readonly Finding[],
  systems: readonly SystemState[],
  streams: ReadonlyMap<number, Stream>,
): TimeLeftRequest[] {
  const states = new Map(systems.flatMap((at) => at.streams.map((row) => [row.stream, row] as const)));
  const byStream = groupByStream(open);
  return open.flatMap((row): TimeLeftRequest[] => {
    const [state, stream] = [states.get(row.stream), streams.get(row.stream)];
    if (traitsOf(row).timeLeft === null) return [];
    if (!state || !stream || quantity(row.quantity)?.kind !== "number") return [];
    const { value, rate, deviation, band } = state;
    const own = byStream.get(row.stream) ?? [];
    const isMeasured =
      (stream.origin === "probe" || stream.origin === "derived") &&
      row.quantity !== "unionised_ammonia" &&
      !own.some(isDoubtful);
    const fast = isMeasured ? own.filter(isFast) : [];
    const heading = { value, rate, deviation, band, isFast: fast.length > 0, way: wayOf(fast), recent: NONE };
    return [{ finding: row.id, stream: row.stream, heading, isMeasured }];
  });
}

/** How long each open finding about a number has; courses are read only of those for which they can say anything. */
export async function readTimesLeft(
  { store, ahead }: Pick<ReadDeps, "store" | "ahead">,
  open: readonly Finding[],
  systems: readonly SystemState[],
  streams: ReadonlyMap<number, Stream>,
  now: Instant,
): Promise<ReadonlyMap<string, TimeLeft>> {
  const byStream = groupByStream(open);
  const requests = askedOf(open, systems, streams);
  const events = [...new Set(requests.filter((row) => row.heading.isFast).map((row) => row.stream))].flatMap(
    (stream) => {
      const [began, origin] = [eventBegan(byStream.get(stream) ?? []), streams.get(stream)?.origin];
      return began === null || origin === undefined ? [] : [{ stream, origin, began }];
    },
  );
  const points = await readEvents(store, events, now);
  const asked = requests.map((row) => ({
    ...row,
    heading: { ...row.heading, event: points.get(row.stream) },
  }));
  const told = new Map(asked.map((row) => [row.finding, timeLeft(row.heading, nothing)]));
  const isOpen = ({ finding, isMeasured, heading }: TimeLeftRequest) => {
    const kind = told.get(finding)?.kind;
    return isMeasured && heading.deviation !== null && (kind === "not known" || kind === "reaches");
  };
  const wanted = asked.filter(isOpen);
  if (wanted.length === 0) return told;
  const since = new Map(
    wanted.map(({ stream }) => [stream, recentSince(byStream.get(stream) ?? [], now)] as const),
  );
  const [recent, weeks] = await Promise.all([
    readRecent(store, since, now),
    ahead.read([...since.keys()], now),
  ]);
  for (const { finding, stream, heading } of wanted)
    told.set(
      finding,
      timeLeft({ ...heading, recent: recent.get(stream) ?? NONE }, weeks.get(stream) ?? nothing),
    );
  return told;
}
