/** Conductivity and oxygen of the demo's water by the core's equations; conductivity on a fine grid, since the exact inverse is a bisection. */
import { conductivityFromSalinity, oxygenSaturation } from "#core/chemistry/index.ts";
import { degC, hPa, psu } from "#core/units/index.ts";

const STEP = 0.25;
const COLDEST = -2;
const ROWS = Math.ceil((40 - COLDEST) / STEP) + 2;
const COLUMNS = Math.ceil(45 / STEP) + 2;

/** Raw conductivity, mS/cm, of salinity 0..45 at -2..40 Cel; bilinear on a grid of 0.25 (within 0.001 mS/cm). */
export type ConductivityGrid = (salinity: number, celsius: number) => number;

/** A grid that fills itself where it is asked; the same answer whatever was asked before. */
export function openConductivityGrid(): ConductivityGrid {
  const cells = new Float64Array(ROWS * COLUMNS).fill(Number.NaN);
  const cell = (row: number, column: number): number => {
    const index = row * COLUMNS + column;
    const known = cells[index] as number;
    if (!Number.isNaN(known)) return known;
    const exact = conductivityFromSalinity(psu(column * STEP), degC(COLDEST + row * STEP)).value;
    if (exact === null) throw new RangeError(`no conductivity for salinity ${column * STEP}`);
    cells[index] = exact;
    return exact;
  };
  return (salinity, celsius) => {
    const y = (celsius - COLDEST) / STEP;
    const x = salinity / STEP;
    const row = Math.floor(y);
    const column = Math.floor(x);
    if (!(row >= 0 && column >= 0 && row < ROWS - 1 && column < COLUMNS - 1))
      throw new RangeError(`salinity ${salinity} at ${celsius} Cel lies outside the demo's water`);
    const u = x - column;
    const v = y - row;
    const cold = cell(row, column) * (1 - u) + cell(row, column + 1) * u;
    const warm = cell(row + 1, column) * (1 - u) + cell(row + 1, column + 1) * u;
    return cold * (1 - v) + warm * v;
  };
}

/** Dissolved oxygen, mg/L, of a share of saturation in % at one atmosphere. The barometer moves it by less than 0.1 mg/L, left out here. */
export function oxygenAt(percent: number, celsius: number, salinity: number): number {
  const full = oxygenSaturation(degC(celsius), psu(salinity), hPa(1013.25)).value;
  if (full === null) throw new RangeError(`no oxygen saturation at ${celsius} Cel`);
  return (percent / 100) * full;
}
