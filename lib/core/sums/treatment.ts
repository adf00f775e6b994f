/** Sums of a treatment that can kill what it is not meant for: they stop and ask before they answer. */
import { step } from "../working/explanation.ts";
import { choice, type InputIssue, inUnits, ofQuantity, optionalText, type SumValues } from "./field.ts";
import { output, type Sum, type SumResult } from "./sum.ts";

const ONLY_BONY_FISH = "bony-fish";
/** Share of copper in copper sulfate pentahydrate: 63.546 of 249.685 (IUPAC abridged standard atomic weights 2021). */
export const COPPER_IN_SULFATE = 63.546 / 249.685;
/** Copper of a published course of about 21 days over 4,822 fish (Zec 2017): mg/L. */
const PUBLISHED = { low: 0.18, high: 0.2 } as const;
const EQUATION = "mass balance over the water volume";
const SMALLER = 0.9;

const explanationOf = (steps: SumResult["explanation"]["steps"]): SumResult["explanation"] => ({
  expression: [
    "copper, g = (wanted - measured) x volume in m³",
    "stock, mL = copper in g x 1000 / stock in g/L",
    "copper sulfate pentahydrate, g = copper in g / 0.2545",
  ],
  range: "free copper without binders, mixed evenly; uptake by carbon, lime or media is not included",
  source: "conservation of mass; IUPAC abridged standard atomic weights 2021",
  steps,
  uncertainty: [],
});

const refused = (note: string): SumResult => ({
  status: "invalid",
  note,
  equation: EQUATION,
  outputs: {},
  explanation: explanationOf([]),
});

/** Sharks, rays and invertebrates die of copper that bony fish bear: without a veterinarian's name and reason nothing is shown. */
function asksFor(values: SumValues): InputIssue[] {
  if (values.text("water") === ONLY_BONY_FISH) return [];
  return (["veterinarian", "reason"] as const)
    .filter((field) => values.text(field) === "")
    .map((field) => ({
      field,
      value: null,
      says: "is missing, and sharks, rays or invertebrates live, or may live, on this water",
      remedy:
        field === "veterinarian"
          ? "give the veterinarian's name"
          : "give the veterinarian's reason for copper",
    }));
}

const copper: Sum = {
  name: "copper",
  label: "Copper dose for a treatment",
  group: "Treatment",
  about: "How much copper raises the measured level to today's level in the veterinarian's plan.",
  fields: [
    choice(
      "water",
      "Animals on this water, including through open or unknown valves",
      [
        ["unknown", "not sure"],
        [ONLY_BONY_FISH, "bony fish only, no water shared"],
        ["others", "sharks, rays or invertebrates"],
      ],
      "unknown",
    ),
    optionalText("veterinarian", "Veterinarian", "required unless only bony fish live there"),
    optionalText("reason", "Reason given", "required unless only bony fish live there"),
    inUnits(
      "volume",
      "True volume of the water",
      [
        ["m3", 2],
        ["L", 0],
      ],
      {
        example: 4,
        hint: "measured, including pipes and filters; drawings are often a quarter wrong",
      },
    ),
    ofQuantity("measured", "copper", { example: 0, label: "Copper measured now", hint: "free copper" }),
    ofQuantity("wanted", "copper", { example: 0.1, label: "Copper in today's plan" }),
    inUnits("stock", "Copper in the stock solution", [["g/L", 2]], {
      isOptional: true,
      hint: "as Cu, from the label or the recipe",
    }),
  ],
  outputs: [
    output("copper", "Copper to add", "g", 3),
    output("stock", "As stock solution", "mL", 1),
    output("sulfate", "As copper sulfate pentahydrate", "g", 3),
    output("smaller", "Level reached if the volume is a tenth smaller", "mg/L", 3),
  ],
  cautions: [
    "Copper kills invertebrates and harms sharks and rays; what lime and sand take up is released again later.",
    "No ammonia binder during a copper treatment: some are reducing agents and change how copper acts.",
    "Add part of the dose, wait and test before adding the rest; test twice a day while the level rises.",
    "Copper solutions are acidic and harm skin and eyes: wear gloves and goggles. Discharge to a drain needs a consent.",
  ],
  asksFor,
  run(v) {
    const [volume, measured, wanted] = [v.number("volume"), v.number("measured"), v.number("wanted")];
    const stock = v.numberOrNull("stock");
    if (volume <= 0) return refused("the volume must be above 0");
    if (measured < 0 || wanted < 0) return refused("a level is below 0");
    if (stock !== null && stock <= 0) return refused("the stock solution contains no copper");
    if (wanted <= measured)
      return refused(
        `the water already has ${measured} mg/L and the plan is ${wanted}: add nothing; carbon or a water change lowers it`,
      );
    const grams = (wanted - measured) * volume;
    const isBeyond = wanted > PUBLISHED.high;
    return {
      status: isBeyond ? "extrapolated" : "ok",
      note: isBeyond
        ? `above ${PUBLISHED.low} to ${PUBLISHED.high} mg/L, the course published by Zec in 2017`
        : null,
      equation: EQUATION,
      outputs: {
        copper: { value: grams },
        stock: { value: stock === null ? null : (1_000 * grams) / stock },
        sulfate: { value: grams / COPPER_IN_SULFATE },
        smaller: { value: measured + grams / (SMALLER * volume) },
      },
      explanation: explanationOf([
        step("rise needed", wanted - measured, "mg/L"),
        step("volume", volume, "m³"),
        step("copper", grams, "g"),
      ]),
    };
  },
};

export const TREATMENT_SUMS: readonly Sum[] = [copper];
