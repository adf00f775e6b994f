import type { AmmoniaAnswer } from "#contract/answers.ts";
import {
  AMMONIA_NEEDS,
  type AmmoniaNeed,
  ammoniaOfTest,
  FRESH_SALINITY,
  type WaterInput,
} from "#core/bench/ammonia.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";
import type { TypedValue } from "./typed-value.ts";
import { waterThen } from "./water-then.ts";

/** From the test itself, else from the water around the time of sampling; fresh water needs no salinity. */
async function inputOf(
  store: Store,
  place: { readonly at: SystemSetUp; readonly point: string },
  results: readonly TypedValue[],
  quantity: AmmoniaNeed,
  sampledAt: Instant,
): Promise<WaterInput | undefined> {
  const own = results.find((row) => row.spec.id === quantity && row.qualifier === "=");
  if (own) return { value: own.value, at: sampledAt, origin: "this test" };
  const measured = await waterThen(store, place, quantity, sampledAt);
  if (measured) return measured;
  return quantity === "salinity" && place.at.system.water === "fresh" ? FRESH_SALINITY : undefined;
}

/**
 * Un-ionised ammonia of a test with a total ammonia result, at once: the result is of no use to an animal's keeper without it. Null where
 * the test has no total ammonia.
 */
export async function benchAmmonia(
  store: Store,
  place: { readonly at: SystemSetUp; readonly point: string },
  results: readonly TypedValue[],
  sampledAt: Instant,
): Promise<AmmoniaAnswer | null> {
  const tan = results.find((row) => row.spec.id === "total_ammonia");
  if (!tan) return null;
  const given: Partial<Record<AmmoniaNeed, WaterInput>> = {};
  for (const quantity of AMMONIA_NEEDS) {
    const input = await inputOf(store, place, results, quantity, sampledAt);
    if (input) given[quantity] = input;
  }
  const { value, qualifier } = tan;
  return ammoniaOfTest({ value, qualifier, at: sampledAt }, given, place.at.system.water);
}
