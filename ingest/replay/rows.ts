import { createReadStream } from "node:fs";
import { faultText } from "#core/faults/fault.ts";
import type { Instant } from "#core/time/instant.ts";
import { decodeTimeText } from "#core/time/time-text.ts";
import { csvRecords } from "../tables/records.ts";
import { columnIndex } from "./columns.ts";
import { ReplayError } from "./replay-error.ts";

export interface Row {
  readonly at: Instant;
  readonly cells: readonly string[];
}
export interface FileOutline {
  readonly header: readonly string[];
  readonly rows: number;
  readonly first: Instant;
  readonly last: Instant;
  readonly isInOrder: boolean;
}

/** Rows that are out of order are sorted in memory, up to this many. */
const SORTED_ROWS = 2_000_000;

/** The records of a CSV file, one array of cells each, read as a stream. Rejects with ReplayError where it cannot be read. */
async function* records(file: string): AsyncGenerator<{ readonly cells: string[]; readonly line: number }> {
  let line = 0;
  try {
    for await (const cells of csvRecords(createReadStream(file))) {
      line += 1;
      yield { cells, line };
    }
  } catch (error) {
    throw new ReplayError(
      `${file} cannot be read: ${error instanceof Error ? error.message : String(error)}.`,
      { cause: error },
    );
  }
}

async function* timedRows(file: string, timeColumn: string, offset: string): AsyncGenerator<Row, void> {
  let index: number | undefined;
  for await (const { cells, line } of records(file)) {
    if (index === undefined) {
      index = columnIndex(cells, timeColumn);
      continue;
    }
    const time = decodeTimeText((cells[index] ?? "").trim(), offset);
    if (!time.ok) throw new ReplayError(`Record ${line} of ${file}: ${faultText(time, timeColumn)}.`);
    yield { at: time.at, cells };
  }
}

/** Reads the file once to know its columns, its span and whether its records are in order. */
export async function outlineOf(file: string, timeColumn: string, offset: string): Promise<FileOutline> {
  let header: readonly string[] | undefined;
  for await (const { cells } of records(file)) {
    header = cells;
    break;
  }
  if (header === undefined) throw new ReplayError(`${file} is empty.`);
  columnIndex(header, timeColumn);
  let rows = 0;
  let [first, last, before] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  let isInOrder = true;
  for await (const { at } of timedRows(file, timeColumn, offset)) {
    rows += 1;
    first = Math.min(first, at);
    last = Math.max(last, at);
    if (at < before) isInOrder = false;
    before = at;
  }
  if (rows === 0) throw new ReplayError(`${file} has a heading but no rows.`);
  return { header, rows, first, last, isInOrder };
}

/** The rows in order of their time. */
export async function* rowsInOrder(
  file: string,
  timeColumn: string,
  offset: string,
  outline: FileOutline,
): AsyncGenerator<Row, void> {
  if (outline.isInOrder) {
    yield* timedRows(file, timeColumn, offset);
    return;
  }
  if (outline.rows > SORTED_ROWS)
    throw new ReplayError(
      `${file} is not in order of ${timeColumn} and too long to sort here: sort it first.`,
    );
  const rows: Row[] = [];
  for await (const row of timedRows(file, timeColumn, offset)) rows.push(row);
  yield* rows.sort((a, b) => a.at - b.at);
}
