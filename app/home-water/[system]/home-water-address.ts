import { notFound } from "next/navigation";
import type { HomeWaterView } from "#contract/home-water.ts";
import type { ReadDeps } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";

export interface Address {
  readonly params: Promise<{ system: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

const one = (value: string | string[] | undefined): string | null =>
  typeof value === "string" && value !== "" ? value : null;
const yearOf = (text: string | null): number | undefined =>
  text !== null && /^(19|20|21)\d\d$/.test(text) ? Number(text) : undefined;

export interface HomeWaterQuery {
  readonly system: string;
  readonly year: number | undefined;
  /** What stands beside it: another system, another year, or the sea at coordinates. */
  readonly beside: string | null;
  readonly besideYear: number | undefined;
  readonly at: { readonly latitude: number; readonly longitude: number } | null;
}

function placeOf(text: string | null): HomeWaterQuery["at"] {
  const [latitude, longitude, ...more] = (text ?? "")
    .split(",")
    .map((part) => (part.trim() === "" ? Number.NaN : Number(part)));
  if (latitude === undefined || longitude === undefined || more.length > 0) return null;
  return Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180 ? { latitude, longitude } : null;
}

/** What an address of a home water page asks for; nonsense in it counts as not given. */
export async function askedOf({ params, searchParams }: Address): Promise<HomeWaterQuery> {
  const [{ system }, search] = await Promise.all([params, searchParams]);
  return {
    system: decodeURIComponent(system),
    year: yearOf(one(search.year)),
    beside: one(search.with),
    besideYear: yearOf(one(search.withYear)),
    at: placeOf(one(search.at)),
  };
}

/** Home water of a system, or the page that says there is none of that name. */
export async function homeWaterOr404(
  read: ReadDeps,
  system: string,
  year: number | undefined,
): Promise<HomeWaterView> {
  try {
    return await readHomeWater(read, system, year === undefined ? {} : { year });
  } catch (failed) {
    if (failed instanceof AppError && failed.code === "not_found") notFound();
    throw failed;
  }
}
