import type { WorkingQuery } from "#contract/api.ts";
import type { WorkingView } from "#contract/working-views.ts";
import type { DerivedPair } from "#core/evaluate/derivations.ts";
import { mainPoint } from "#core/set-up/point-role.ts";
import { workingOf } from "#core/working/index.ts";
import type { ReadDeps } from "../deps.ts";
import { AppError, invalid } from "../errors.ts";
import { lookUp, type SystemSetUp, systemOf } from "../set-up.ts";
import { inputsThen, pairsOf } from "./derived-inputs.ts";

function pairMeant(at: SystemSetUp, { quantity, point }: WorkingQuery): DerivedPair {
  const pairs = pairsOf(at);
  const ofQuantity = pairs.filter((pair) => pair.formula === quantity);
  const wanted = ofQuantity.filter((pair) => point === undefined || pair.trigger.pointCode === point);
  const main = mainPoint(at.points)?.code;
  const found = wanted.find((pair) => pair.trigger.pointCode === main) ?? wanted[0];
  if (found && (wanted.length === 1 || point !== undefined || found.trigger.pointCode === main)) return found;
  if (found)
    throw invalid([
      {
        field: "point",
        value: null,
        says: `${quantity} is computed at several points`,
        remedy: `use one of ${wanted.map((pair) => pair.trigger.pointCode).join(", ")}`,
      },
    ]);
  const known = pairs.map((pair) => `${pair.formula} at ${pair.trigger.pointCode}`);
  throw new AppError(
    "not_found",
    `${at.system.code} has nothing to compute ${quantity}${point === undefined ? "" : ` at ${point}`} from. ` +
      (known.length === 0 ? "Nothing is computed there." : `Computed there: ${known.join(", ")}.`),
  );
}

/**
 * The working of one derived number: the newest at or before `at`. Inputs are chosen as the evaluator chose them and the number is
 * computed by its function, so it equals the stored one to the last bit where one is stored.
 */
export async function readWorking(deps: ReadDeps, code: string, query: WorkingQuery): Promise<WorkingView> {
  const { place, pair } = await lookUp(deps.setUp, (index) => {
    const found = systemOf(index, code);
    return { place: found, pair: pairMeant(found, query) };
  });
  const then = await inputsThen(deps.store, place, pair, query.at ?? deps.clock());
  return workingOf({
    ...then,
    system: place.system.code,
    point: pair.trigger.pointCode,
    formula: pair.formula,
    isStored: pair.isStored,
    zone: place.site.zone,
  });
}
