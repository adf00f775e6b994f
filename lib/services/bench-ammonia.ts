import { unionisedAmmonia } from "../core/chemistry/index.ts";
import type { Instant } from "../core/time/instant.ts";
import { degC, mgPerLAsN, phUnits, psu, QUANTITIES } from "../core/units/index.ts";
import type { AmmoniaAnswer } from "../core/wire/answers.ts";
import { numberText, withUnit } from "../core/wire/number-text.ts";
import type { Store } from "../store/port.ts";
import type { SystemSetUp } from "./set-up.ts";
import type { TypedValue } from "./typed-value.ts";
import { waterThen } from "./water-then.ts";

type Input = AmmoniaAnswer["inputs"][number];
const NEEDED = ["ph", "temperature", "salinity"] as const;
type Needed = (typeof NEEDED)[number];
const NH3 = QUANTITIES.unionised_ammonia;

const labelled = (
  quantity: Needed | "total_ammonia",
  rest: Pick<Input, "value" | "at" | "origin">,
): Input => {
  const { label, unitLabel } = QUANTITIES[quantity];
  return { quantity, label, unitLabel, ...rest };
};

/** From the test itself, else from the water around the time of sampling; fresh water needs no salinity. */
async function inputOf(
  store: Store,
  place: { readonly at: SystemSetUp; readonly point: string },
  results: readonly TypedValue[],
  quantity: Needed,
  sampledAt: Instant,
): Promise<Input | undefined> {
  const own = results.find((row) => row.spec.id === quantity && row.qualifier === "=");
  if (own) return labelled(quantity, { value: own.value, at: sampledAt, origin: "this test" });
  const measured = await waterThen(store, place, quantity, sampledAt);
  if (measured) return labelled(quantity, measured);
  if (quantity === "salinity" && place.at.system.water === "fresh")
    return labelled(quantity, { value: 0, at: null, origin: "fresh water" });
  return undefined;
}

/**
 * Un-ionised ammonia of a test with a total ammonia result, at once: the result is of no use to an animal's keeper without it. Null where
 * the test has no total ammonia. pH is taken as read on the NBS scale, as probes and bench meters in ordinary buffers do.
 */
export async function benchAmmonia(
  store: Store,
  place: { readonly at: SystemSetUp; readonly point: string },
  results: readonly TypedValue[],
  sampledAt: Instant,
): Promise<AmmoniaAnswer | null> {
  const tan = results.find((row) => row.spec.id === "total_ammonia");
  if (!tan) return null;
  const found = new Map<Needed, Input>();
  for (const quantity of NEEDED) {
    const input = await inputOf(store, place, results, quantity, sampledAt);
    if (input) found.set(quantity, input);
  }
  const inputs = [
    labelled("total_ammonia", { value: tan.value, at: sampledAt, origin: "this test" }),
    ...found.values(),
  ];
  const common = {
    qualifier: tan.qualifier,
    unit: NH3.unit,
    unitLabel: NH3.unitLabel,
    phScale: "nbs" as const,
    inputs,
  };
  const [ph, t, s] = NEEDED.map((quantity) => found.get(quantity));
  if (!ph || !t || !s) {
    const missing = NEEDED.filter((quantity) => !found.has(quantity));
    const names = missing.map((quantity) => QUANTITIES[quantity].label).join(", ");
    const says = `Un-ionised ammonia is not known: ${names} at the time of sampling is missing`;
    return {
      ...common,
      value: null,
      low: null,
      high: null,
      status: "not known",
      says,
      formula: null,
      missing,
    };
  }
  const result = unionisedAmmonia({
    tan: mgPerLAsN(tan.value),
    ph: phUnits(ph.value),
    phScale: "nbs",
    t: degC(t.value),
    s: psu(s.value),
    water: place.at.system.water,
  });
  return {
    ...common,
    value: result.value,
    low: result.low,
    high: result.high,
    status: result.status,
    says: sentence(result, tan.qualifier),
    formula: result.formula,
    missing: [],
  };
}

function sentence(
  { value, note, low, high }: ReturnType<typeof unionisedAmmonia>,
  qualifier: "=" | "<" | ">",
): string {
  if (value === null) return `Un-ionised ammonia cannot be computed: ${note ?? "the inputs allow none"}`;
  const { decimals, unitLabel } = NH3;
  const text = withUnit(value, decimals, unitLabel);
  const sign = qualifier === "=" || text.startsWith("<") ? "" : `${qualifier} `;
  const interval =
    qualifier === "=" && low !== null && high !== null
      ? ` (${numberText(low, decimals)} to ${numberText(high, decimals)})`
      : "";
  return `Un-ionised ammonia ${sign}${text}${interval}${note === null ? "" : `; ${note}`}`;
}
