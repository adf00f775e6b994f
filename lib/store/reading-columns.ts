import type { ReadingMark } from "#core/quality/flag.ts";
import type { Fate, NewReading } from "./port.ts";

/** Readings by column: what two threads can share without an object for each. Longer than `count`, where the memory is used again. */
export interface ReadingColumns {
  readonly count: number;
  readonly stream: Int32Array;
  readonly at: Float64Array;
  readonly value: Float64Array;
  readonly source: Int32Array;
  /** NaN where none was sent. */
  readonly sequence: Float64Array;
  /** Few readings have a mark: [index, mark]. */
  readonly marks: readonly (readonly [index: number, mark: ReadingMark])[];
}
export type ColumnSpace = Omit<ReadingColumns, "count" | "marks">;

const BYTES_A_READING = 32;

/** Memory for as many readings that another thread sees too. */
export const sharedBytes = (capacity: number): SharedArrayBuffer =>
  new SharedArrayBuffer(capacity * BYTES_A_READING);

/** Room in memory that `sharedBytes` gave, or in memory of this thread's own. */
export function columnSpace(bytes: SharedArrayBuffer | ArrayBuffer): ColumnSpace {
  const capacity = bytes.byteLength / BYTES_A_READING;
  return {
    at: new Float64Array(bytes, 0, capacity),
    value: new Float64Array(bytes, capacity * 8, capacity),
    sequence: new Float64Array(bytes, capacity * 16, capacity),
    stream: new Int32Array(bytes, capacity * 24, capacity),
    source: new Int32Array(bytes, capacity * 28, capacity),
  };
}

export function columnsOf(
  readings: readonly NewReading[],
  space: ColumnSpace = columnSpace(new ArrayBuffer(readings.length * BYTES_A_READING)),
): ReadingColumns {
  const { stream, at, value, source, sequence } = space;
  const marks: [number, ReadingMark][] = [];
  for (let index = 0; index < readings.length; index += 1) {
    const reading = readings[index] as NewReading;
    stream[index] = reading.stream;
    at[index] = reading.at;
    value[index] = reading.value;
    source[index] = reading.source;
    sequence[index] = reading.sequence ?? Number.NaN;
    if (reading.mark !== null) marks.push([index, reading.mark]);
  }
  return { count: readings.length, stream, at, value, source, sequence, marks };
}

/** What became of readings by column: null where every one was stored, which is the usual case. */
export type FateColumn = Uint8Array | null;
export const STORED = 0;
export const DUPLICATE = 1;
export const CONFLICT = 2;
const FATES: readonly Fate[] = ["stored", "duplicate", "conflict"];

export function fatesOf(column: FateColumn, count: number): Fate[] {
  if (column === null) return new Array<Fate>(count).fill("stored");
  return Array.from(column, (code) => FATES[code] as Fate);
}
