import type { DerivedNowView, WorkingView } from "#contract/working-views.ts";
import { durationText } from "#core/time/duration-text.ts";
import { DAY, MINUTE } from "#core/time/instant.ts";
import { workingOf } from "#core/working/index.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { inputsThen, pairsOf } from "./derived-inputs.ts";

/** A probe that has said nothing for this long says nothing about now; a bench result speaks for its day. */
const LEAST_AGE = 30 * MINUTE;

/**
 * Everything that can be computed of a system's water now, also what no band asks for and so nobody keeps. A value whose trigger is
 * overdue is not known.
 */
export async function readDerivedNow(deps: ReadDeps, code: string): Promise<DerivedNowView> {
  const place = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const now = deps.clock();
  const values: DerivedNowView["values"] = [];
  for (const pair of pairsOf(place)) {
    const { trigger, formula, isStored } = pair;
    const view: WorkingView = workingOf({
      ...(await inputsThen(deps.store, place, pair, now)),
      system: code,
      point: trigger.pointCode,
      formula,
      isStored,
      zone: place.site.zone,
    });
    const longest = trigger.origin === "bench" ? DAY : Math.max(LEAST_AGE, 3 * (trigger.interval ?? 0));
    const age = view.at === null ? null : now - view.at;
    const isOld = age !== null && age > longest;
    const { quantity, label, unit, unitLabel, decimals, point, at, mark } = view;
    values.push({
      quantity,
      label,
      unit,
      unitLabel,
      decimals,
      point,
      at,
      mark,
      value: isOld ? null : view.value,
      low: isOld ? null : view.low,
      high: isOld ? null : view.high,
      status: isOld ? "not known" : view.status,
      note: isOld ? `the newest reading is ${durationText(age)} old` : view.note,
      isStored,
    });
  }
  return { system: place.system.code, now, values };
}
