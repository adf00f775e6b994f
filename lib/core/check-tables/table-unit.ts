import { isUnit, type Unit } from "../units/index.ts";
import { CheckTableError } from "./check.ts";

/** How tables write units that are not spelled as in the registry. */
const PLAIN: Readonly<Record<string, Unit>> = {
  degC: "Cel",
  degF: "[degF]",
  hPa: "hPa",
  kPa: "kPa",
  mmHg: "mm[Hg]",
  inHg: "[in_i'Hg]",
  dKH: "[dKH]",
  meq_L: "meq/L",
  mg_L_CaCO3: "mg{CaCO3}/L",
  mg_L_N: "mg{N}/L",
  mg_L_NH3: "mg{NH3}/L",
  mg_L_NH4: "mg{NH4}/L",
};

/** Of what a bare amount counts, by the unit on the other side: the element of a nutrient, charge of an alkalinity. */
const COUNTS: Readonly<Record<string, string>> = {
  N: "N",
  NO3: "N",
  NO2: "N",
  NH3: "N",
  NH4: "N",
  P: "P",
  PO4: "P",
  P2O5: "P",
  Si: "Si",
  SiO2: "Si",
};

/** The registry's code for a unit as a table writes it: `mg_L_as_NO3`, `umol_kg`, `degC`. Throws CheckTableError for others. */
export function tableUnit(written: string, other = ""): Unit {
  const known = PLAIN[written];
  if (known) return known;
  const basis = /^mg_L(?:_as)?_([A-Za-z0-9]+)$/.exec(written)?.[1];
  const bare = /^umol_(L|kg)$/.exec(written)?.[1];
  const element = COUNTS[/_([A-Za-z0-9]+)$/.exec(other)?.[1] ?? ""];
  const code =
    basis !== undefined
      ? `mg{${basis}}/L`
      : bare !== undefined
        ? element === undefined
          ? `ueq/${bare}`
          : `umol{${element}}/${bare}`
        : written;
  if (isUnit(code)) return code;
  throw new CheckTableError(`"${written}" is not a known unit`);
}
