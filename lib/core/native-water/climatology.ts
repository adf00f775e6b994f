/** The compact table of lib/climate, read from its unpacked bytes: layers of boxes, each with one value or twelve. */
import * as z from "zod";
import { greatCircle, type Place } from "./great-circle.ts";

const MARK = "HWNW";

const layerHead = z.object({
  name: z.string(),
  quantity: z.enum(["temperature", "salinity"]),
  unit: z.string(),
  depth: z.number().min(0),
  months: z.union([z.literal(1), z.literal(12)]),
  west: z.number(),
  south: z.number(),
  step: z.number().positive(),
  columns: z.int().positive(),
  rows: z.int().positive(),
});
const tableHead = z.object({
  version: z.literal(1),
  missing: z.int(),
  scale: z.number().positive(),
  layers: z.array(layerHead).min(1),
});

export interface Layer extends z.output<typeof layerHead> {
  /** The values of one box in the layer's unit (degC or practical salinity), null unless every month is there. */
  readonly at: (row: number, column: number) => readonly number[] | null;
}
export interface Climatology {
  readonly layers: readonly Layer[];
}

/** One box of a layer: its centre, how far it lies from the place asked for (km), and its values (1 or 12). */
export interface Box extends Place {
  readonly distance: number;
  readonly values: readonly number[];
}

/**
 * Layers of a table from its unpacked bytes (layout: lib/climate/README.md). Throws RangeError where the bytes are not such a table or end too soon.
 */
export function climatologyOf(bytes: Uint8Array): Climatology {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const mark = new TextDecoder().decode(bytes.subarray(0, 4));
  if (mark !== MARK)
    throw new RangeError(`a native water table begins with ${MARK}, this one with "${mark}"`);
  const length = view.getUint32(4, true);
  const head = tableHead.parse(JSON.parse(new TextDecoder().decode(bytes.subarray(8, 8 + length))));
  let offset = 8 + length;
  const layers = head.layers.map((about): Layer => {
    const begin = offset;
    const page = about.rows * about.columns;
    offset += page * about.months * 2;
    if (offset > bytes.byteLength)
      throw new RangeError(`the native water table ends inside its layer ${about.name}`);
    const at = (row: number, column: number): readonly number[] | null => {
      const values: number[] = [];
      for (let month = 0; month < about.months; month += 1) {
        const raw = view.getInt16(begin + 2 * (month * page + row * about.columns + column), true);
        if (raw === head.missing) return null;
        values.push(raw / head.scale);
      }
      return values;
    };
    return { ...about, at };
  });
  return { layers };
}

/**
 * The complete boxes of a layer within `most` km of a place (great circle, to the box's centre), nearest first; boxes with a month missing are
 * left out. Of equal distances the southern, then the eastern one comes first. Empty where there are none.
 */
export function boxesNear(layer: Layer, place: Place, most: number): Box[] {
  const found: Box[] = [];
  for (let row = 0; row < layer.rows; row += 1) {
    const latitude = layer.south + row * layer.step;
    // A degree of latitude is 111 km everywhere: rows farther away than asked need no look.
    if (Math.abs(latitude - place.latitude) * 110 > most) continue;
    for (let column = 0; column < layer.columns; column += 1) {
      const centre = { latitude, longitude: layer.west + column * layer.step };
      const distance = greatCircle(place, centre);
      if (!(distance <= most)) continue;
      const values = layer.at(row, column);
      if (values) found.push({ ...centre, distance, values });
    }
  }
  // To the metre: rounding must not choose between boxes that are equally far.
  const metres = ({ distance }: Box) => Math.round(distance * 1000);
  return found.sort((a, b) => metres(a) - metres(b) || a.latitude - b.latitude || b.longitude - a.longitude);
}
