import type { Readable } from "node:stream";
import Papa from "papaparse";

/** The records of CSV text (RFC 4180) as they come, one array of cells each; a byte order mark is dropped. Rejects where the source does. */
export async function* csvRecords(source: Readable): AsyncGenerator<string[]> {
  const parser = Papa.parse(Papa.NODE_STREAM_INPUT, { skipEmptyLines: true });
  source.once("error", (error) => parser.destroy(error));
  source.setEncoding("utf8").pipe(parser);
  let isFirst = true;
  try {
    for await (const cells of parser as AsyncIterable<string[]>) {
      if (isFirst && cells[0] !== undefined) cells[0] = cells[0].replace(/^\uFEFF/, "");
      isFirst = false;
      yield cells;
    }
  } finally {
    source.destroy();
  }
}

/** What a spreadsheet would take for a formula; a negative number, which comes as text here, is none. */
const FORMULA = /^[=+@\t\r]|^-(?![\d.])/;

/** One record as CSV, without its line end. */
export const csvLine = (cells: readonly (string | number)[]): string =>
  Papa.unparse([[...cells]], { escapeFormulae: FORMULA });
