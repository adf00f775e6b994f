/**
 * Scores of a detector on a labelled record: how many events it found by *starting* to call in them, how often it called outside them, how
 * long it stood in alarm outside them, and what chance alone would have found. All systems together, all at once.
 */
const HOUR = 3_600_000;
const WEEK = 168 * HOUR;

export interface Call {
  readonly stream: string;
  readonly start: number;
  /** Infinity while it never cleared. */
  readonly end: number;
}
export interface LabelledRecord {
  readonly name: string;
  readonly t: readonly number[];
  readonly streams: readonly string[];
  readonly events: readonly (readonly [start: number, end: number])[];
  /** A call so long before an event, or so long after it, still counts as finding it. */
  readonly lead: number;
  readonly tolerance: number;
  /** Scored from here on: what comes before is for learning. */
  readonly from: number;
}
export interface Scores {
  readonly events: number;
  readonly recall: number;
  readonly falseAWeek: number;
  readonly inAlarm: number;
  readonly chance: number;
  readonly delayMinutes: number;
}

const isWithin = (record: LabelledRecord, at: number, [start, end]: readonly [number, number]) =>
  at >= start - record.lead && at <= end + record.tolerance;

const scoredEvents = (record: LabelledRecord) => record.events.filter(([start]) => start >= record.from);

function delays(record: LabelledRecord, starts: readonly number[]): number[] {
  return scoredEvents(record).flatMap((event) => {
    const first = starts.find((at) => isWithin(record, at, event));
    return first === undefined ? [] : [first - event[0]];
  });
}

/** Starts outside every event; those within an hour of the one before it are one. */
function falseStarts(record: LabelledRecord, starts: readonly number[]): number {
  let count = 0;
  let last = Number.NEGATIVE_INFINITY;
  for (const at of starts) {
    if (scoredEvents(record).some((event) => isWithin(record, at, event))) continue;
    if (at - last >= HOUR) count++;
    last = at;
  }
  return count;
}

function timeInAlarm(record: LabelledRecord, calls: readonly Call[]): { in: number; of: number } {
  const events = scoredEvents(record);
  const free = record.t.filter(
    (at) => at >= record.from && !events.some((event) => isWithin(record, at, event)),
  );
  let standing = 0;
  for (const stream of record.streams) {
    const own = calls.filter((call) => call.stream === stream);
    for (const at of free) if (own.some((call) => at >= call.start && at < call.end)) standing++;
  }
  return { in: standing, of: free.length * record.streams.length };
}

const ROTATIONS = 200;

/** Recall of the same calls moved round the record by 200 even turns, on average: what their number alone would find. */
function chanceHits(record: LabelledRecord, starts: readonly number[]): number {
  const span = (record.t.at(-1) ?? 0) - record.from;
  let sum = 0;
  for (let i = 1; i <= ROTATIONS; i++) {
    const by = (i * span) / (ROTATIONS + 1);
    const moved = starts.map((at) => record.from + ((at - record.from + by) % span)).sort((a, b) => a - b);
    sum += delays(record, moved).length;
  }
  return sum / ROTATIONS;
}

/** Scores over several records taken together. `calls` by record, any order. */
export function scoresOf(
  records: readonly LabelledRecord[],
  callsOf: (record: LabelledRecord) => readonly Call[],
): Scores {
  const found: number[] = [];
  let [events, wrong, weeks, standing, free, chance] = [0, 0, 0, 0, 0, 0];
  for (const record of records) {
    const calls = callsOf(record).filter((call) => call.start >= record.from);
    const starts = calls.map((call) => call.start).sort((a, b) => a - b);
    found.push(...delays(record, starts));
    events += scoredEvents(record).length;
    wrong += falseStarts(record, starts);
    weeks += ((record.t.at(-1) ?? 0) - record.from) / WEEK;
    const time = timeInAlarm(record, calls);
    standing += time.in;
    free += time.of;
    chance += chanceHits(record, starts);
  }
  found.sort((a, b) => a - b);
  return {
    events,
    recall: found.length / events,
    falseAWeek: wrong / weeks,
    inAlarm: standing / free,
    chance: chance / events,
    delayMinutes: (found[found.length >> 1] ?? Number.NaN) / 60_000,
  };
}
