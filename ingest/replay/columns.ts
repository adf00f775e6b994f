import { faultText } from "#core/faults/fault.ts";
import { decodeTopic, readingTopic, unknownQuantity } from "#core/gateway/index.ts";
import { canonicalUnit, quantity, stateIndex } from "#core/units/index.ts";
import { ReplayError } from "./replay-error.ts";

/** What a column of the file holds, and how one of its cells is sent. */
export interface Column {
  readonly index: number;
  readonly name: string;
  readonly topic: string;
  /** Sent beside each value; null for a state. */
  readonly unit: string | null;
  /** The value of a cell, or null where the cell cannot be read as one. */
  valueOf(cell: string): number | string | null;
}

const NUMBER = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;

/** Finds a column by its heading. Throws ReplayError with the headings there are. */
export function columnIndex(header: readonly string[], name: string): number {
  const index = header.indexOf(name);
  if (index >= 0) return index;
  throw new ReplayError(`There is no column "${name}" in the file: its columns are ${header.join(", ")}.`);
}

/** Reads one `COLUMN=system/point/quantity:unit`. Throws ReplayError naming what is wrong and what to write. */
export function readMap(text: string, header: readonly string[], site: string): Column {
  const [, name = "", system = "", point = "", id = "", unit] =
    /^(.+)=([^=/:]+)\/([^=/:]+)\/([^=/:]+)(?::(.+))?$/s.exec(text) ?? [];
  if (name === "") throw new ReplayError(`--map is "${text}": write COLUMN=system/point/quantity:unit.`);
  const index = columnIndex(header, name);
  const spec = quantity(id);
  if (spec === undefined) throw new ReplayError(`--map "${text}": ${faultText(unknownQuantity(id))}.`);
  const topic = readingTopic({ site, system, point, quantity: id });
  const place = decodeTopic(topic);
  if (place.kind !== "reading")
    throw new ReplayError(
      `--map "${text}": ${place.kind === "refused" ? place.reason : `"${system}" is not a system's name`}.`,
    );
  if (spec.kind === "state") {
    if (unit !== undefined)
      throw new ReplayError(`--map "${text}": ${id} is a state and has no unit, leave ":${unit}" out.`);
    return {
      index,
      name,
      topic,
      unit: null,
      valueOf: (cell) => (stateIndex(spec, cell) === undefined ? null : cell),
    };
  }
  if (unit !== undefined && canonicalUnit(id, unit) === undefined)
    throw new ReplayError(
      `--map "${text}": "${unit}" does not convert exactly to ${spec.unit}, the unit of ${id}.`,
    );
  return {
    index,
    name,
    topic,
    unit: unit ?? spec.unit,
    valueOf(cell) {
      const value = NUMBER.test(cell) ? Number(cell) : Number.NaN;
      return Number.isFinite(value) ? value : null;
    },
  };
}
