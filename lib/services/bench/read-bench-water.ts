import type { BenchWaterQuery, BenchWaterView } from "#contract/bench-water.ts";
import { FRESH_SALINITY } from "#core/bench/ammonia.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { type Measured, waterThen } from "./water-then.ts";

/** The believable water around a moment, chosen as recordBench chooses it. Throws AppError "not_found". */
export async function readBenchWater(
  deps: ReadDeps,
  code: string,
  query: BenchWaterQuery,
): Promise<BenchWaterView> {
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const moment = query.at ?? deps.clock();
  const place = { at, point: query.point ?? mainPoint(at.points)?.code ?? "" };
  const near = async (quantity: string): Promise<Measured | null> =>
    (await waterThen(deps.store, place, quantity, moment)) ?? null;
  const [ph, temperature, salinity, pressure] = await Promise.all([
    near("ph"),
    near("temperature"),
    near("salinity"),
    near("barometric_pressure"),
  ]);
  const fresh =
    at.system.water === "fresh"
      ? { value: FRESH_SALINITY.value, at: null, origin: "fresh water" as const }
      : null;
  return {
    system: at.system.code,
    point: place.point,
    at: moment,
    water: at.system.water,
    elevation: at.site.elevation,
    ph,
    temperature,
    salinity: salinity ?? fresh,
    pressure,
  };
}
