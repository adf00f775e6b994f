/** A team's own home water from a file: previewed with nothing stored, then loaded, and withdrawn where it was wrong. */

import {
  type AdoptedAnswer,
  type HomeWaterLookView,
  type HomeWaterSeriesListView,
  homeWaterFileRequest,
  homeWaterLookRequest,
} from "#contract/home-water-forms.ts";
import { monthsOfValues } from "#core/native-water/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { Actor, ReadDeps, WriteDeps } from "../deps.ts";
import { AppError, invalid } from "../errors.ts";
import { parse } from "../parse.ts";
import { demand } from "../permission.ts";
import { addHomeWaterSeries } from "./home-water-plans.ts";
import { type NativeDeps, readHomeOrNative } from "./read-native-water.ts";
import { readSeriesFile } from "./series-file.ts";

/** Refused rows that are listed one by one; all are counted. */
const MOST_TOLD = 50;

type Look = ReturnType<typeof homeWaterLookRequest.parse>;

function monthsIn({ text, quantity, unit, decimal }: Look) {
  const file = readSeriesFile(text, quantity, unit ?? null, decimal);
  if (!file.ok) throw invalid([{ field: "text", value: null, says: file.says, remedy: file.remedy }]);
  const months = monthsOfValues(file.values);
  const missing = months.flatMap((month, i) => (month === null ? [i + 1] : []));
  return { file, months, missing };
}

/** What counts at a place today, so that the own values can be seen beside it; null where nothing is known there. */
async function besideOf(deps: WriteDeps & NativeDeps, { latitude, longitude, quantity }: Look) {
  try {
    const now = await readHomeOrNative(deps, { latitude, longitude });
    return quantity === "temperature"
      ? { months: now.temperature, from: now.source.temperature }
      : {
          months: Array.from({ length: 12 }, () => now.salinity),
          from: now.source.salinity,
        };
  } catch (refused) {
    if (refused instanceof AppError && refused.code === "not_found") return null;
    throw refused;
  }
}

/** What loading a file would store, row by row what it would refuse, and what counts at that place today; nothing is written. */
export async function tryHomeWaterFile(
  deps: WriteDeps & NativeDeps,
  actor: Actor,
  body: unknown,
): Promise<HomeWaterLookView> {
  demand(actor, "change-band");
  const request = parse(homeWaterLookRequest, body);
  const { file, months, missing } = monthsIn(request);
  const { label, unitLabel, decimals } = labelOf(request.quantity);
  return {
    label,
    unitLabel,
    decimals,
    read: file.values.length,
    refused: file.refused.slice(0, MOST_TOLD).map((row) => ({ ...row })),
    refusedCount: file.refused.length,
    ignored: [...file.ignored],
    months: months.map((month) => month && { ...month, years: [...month.years] }),
    missing,
    beside: await besideOf(deps, request),
  };
}

/**
 * Loads a file as the team's own home water data; from then on it comes before the climatology near it. Throws AppError "forbidden", "invalid"
 * where a month has no value, or where rows are refused and nobody said that they may be left out.
 */
export async function loadHomeWaterFile(
  deps: WriteDeps,
  actor: Actor,
  body: unknown,
): Promise<AdoptedAnswer> {
  demand(actor, "change-band");
  const { leaveOut, name, source, reason, ...look } = parse(homeWaterFileRequest, body);
  const { file, months, missing } = monthsIn(look);
  if (missing.length > 0)
    throw invalid([
      {
        field: "text",
        value: null,
        says: `has no value for month ${missing.join(", ")}`,
        remedy: "home water data needs all twelve months",
      },
    ]);
  const [first] = file.refused;
  if (first && leaveOut !== true)
    throw invalid([
      {
        field: "leaveOut",
        value: first.value,
        says: `${file.refused.length} ${file.refused.length === 1 ? "row is" : "rows are"} refused, the first in line ${first.line}: ${first.says}`,
        remedy: "correct them, or allow them to be left out",
      },
    ]);
  return addHomeWaterSeries(deps, actor, {
    name,
    latitude: look.latitude,
    longitude: look.longitude,
    quantity: look.quantity,
    months: months.flatMap((month) => (month ? [{ value: month.value, spread: month.spread }] : [])),
    source,
    reason,
  });
}

/** All of the team's own home water data, newest first, including what was withdrawn. */
export async function readHomeWaterSeries(deps: ReadDeps): Promise<HomeWaterSeriesListView> {
  const { homeWater } = await deps.store.readHabitat();
  return {
    now: deps.clock(),
    series: homeWater.toReversed().map(({ quantity, months, recordedAt, withdrawnAt, ...series }) => {
      const { label, unitLabel, decimals } = labelOf(quantity);
      return {
        ...series,
        quantity,
        label,
        unitLabel,
        decimals,
        months: months.map((month) => ({ ...month })),
        recorded: recordedAt,
        withdrawn: withdrawnAt,
      };
    }),
  };
}
