/**
 * What goes wrong in aquarium water, by the signs it leaves, with what looks like it and is not. Common practice of life-support teams, no
 * source, the table as a whole: signs, times to act and first checks. Heat: 1 kW warms 1 m3 of sea water by 0.88 degC an hour (from its heat
 * capacity); gas pressure and depth after Colt 1984. Cautions about ozone in air: 0.1 ppm, OSHA and NIOSH tables.
 */
import type { PointTrait } from "../set-up/point-role.ts";
import type { Expectation, Failure } from "./failure.ts";

const OZONE_AIR = "Ozone in air harms above 0.1 ppm: leave, ventilate, measure; smell is no meter.";
const ELECTRIC = "Isolate and lock the supply before hands go into the water.";
const CONFINED = "Sumps, towers and filters are confined spaces: no lone entry.";
const SULPHIDE = "Hydrogen sulphide kills people: do not stir, do not lean over it.";
const CHLORINE = "Never mix chlorine with acid or ammonia.";

const SALT = ["salinity", "conductivity", "specific_conductance"];
const OXYGEN = ["dissolved_oxygen"];
const CHLORINES = ["chlorine", "total_chlorine"];

type Way = "rises" | "falls" | "moves" | "steps up" | "steps down" | "steady";
type More = {
  at?: PointTrait | "anywhere";
  over?: "hours" | "days";
  origin?: "bench" | "probe";
  needed?: true;
};
const sees = (
  of: readonly string[],
  does: Way,
  weight: number,
  says: string,
  more: More = {},
): Expectation => ({
  of,
  does,
  weight,
  says,
  ...more,
});
const word = (
  state: string,
  words: readonly string[],
  weight: number,
  says: string,
  needed?: true,
): Expectation => ({
  state,
  words,
  weight,
  says,
  ...(needed ? { needed } : {}),
});
const logged = (kinds: readonly string[], weight: number, says: string, needed?: true): Expectation => ({
  logged: kinds,
  weight,
  says,
  ...(needed ? { needed } : {}),
});
const counted = (rules: readonly string[], says: string, needed?: true): Expectation => ({
  finding: "stepped",
  of: "animal_count",
  rules,
  weight: 3,
  says,
  ...(needed ? { needed } : {}),
});
const NEEDED = { needed: true } as const;

const failure = (
  id: string,
  label: string,
  actWithinMinutes: number,
  checkFirst: string,
  expect: readonly Expectation[],
  more: Partial<Failure> = {},
): Failure => ({ id, label, isFailure: true, actWithinMinutes, checkFirst, expect, ...more });
const DAY = 1_440;
const harmless = (
  id: string,
  label: string,
  checkFirst: string,
  expect: readonly Expectation[],
  more: Partial<Failure> = {},
) => failure(id, label, DAY, checkFirst, expect, { isFailure: false, ...more });

export const FAILURES: readonly Failure[] = [
  failure(
    "ozone-overdose",
    "Too much ozone",
    15,
    "Stop the ozone, keep the water moving, test for residual oxidant",
    [
      sees(["orp"], "rises", 3, "display ORP rises", NEEDED),
      sees(["orp"], "rises", 1.5, "contact-chamber ORP rises with it", { at: "followsOzoneController" }),
      sees(["total_residual_oxidant"], "rises", 2, "residual oxidant is found"),
      sees(["ozone_output"], "rises", 1, "ozone output rises", { at: "anywhere" }),
    ],
    {
      caution: OZONE_AIR,
      against: [
        logged(["probe-clean", "probe-swap", "calibration"], 3, "a probe was cleaned just before"),
        logged(["water-change"], 1.5, "water was changed just before"),
      ],
    },
  ),
  failure(
    "contact-orp-fouled",
    "Fouled contact-chamber ORP probe drives the ozone",
    30,
    "Put the ozone on a low fixed dose by hand, hold a second probe beside the contact one",
    [
      sees(["orp"], "falls", 2.5, "contact-chamber ORP is low", { at: "followsOzoneController", ...NEEDED }),
      sees(["orp"], "rises", 3, "display ORP rises against it", NEEDED),
      sees(["ozone_output"], "rises", 1.5, "ozone output rises", { at: "anywhere" }),
    ],
    { caution: OZONE_AIR },
  ),
  failure(
    "pump-stopped",
    "A circulation pump has stopped",
    15,
    "The pump panel; start it again or the standby, open air, stop feeding",
    [
      sees(["flow"], "steps down", 3, "flow stepped down", { at: "anywhere", ...NEEDED }),
      word("pump", ["stopped", "interlocked", "tripped"], 4, "a pump says that it stands", true),
      sees(OXYGEN, "falls", 1.5, "oxygen falls"),
      sees(["level"], "rises", 1, "sump level rises", { at: "showsLevel" }),
      sees(["orp"], "falls", 1, "contact-chamber ORP falls", { at: "followsOzoneController" }),
    ],
    { any: true, caution: ELECTRIC, against: [logged(["backwash"], 5, "a backwash was logged")] },
  ),
  failure(
    "power-lost",
    "The power supply is not what it should be",
    15,
    "The supply and the generator; then pumps, ozone, chillers",
    [
      word("mains", ["generator", "none"], 5, "the supply says so", true),
      word("pump", ["stopped", "interlocked", "tripped"], 2, "pumps stand"),
      sees(["flow"], "falls", 1.5, "flow falls", { at: "anywhere" }),
    ],
    { caution: ELECTRIC },
  ),
  failure(
    "oxygen-load",
    "More breathing than air: feed, animals or a lost degas fan",
    60,
    "Air and gas exchange; stop feeding; the degas tower's fan",
    [
      sees(OXYGEN, "falls", 2.5, "oxygen falls", NEEDED),
      sees(["ph"], "falls", 2, "pH falls with it (carbon dioxide)"),
      sees(["flow"], "steady", 1.5, "flow is as it was", { at: "anywhere" }),
    ],
    { against: [sees(["temperature"], "rises", 2.5, "the water warms, and warm water holds less")] },
  ),
  failure(
    "warming",
    "Heater stuck on or cooling lost",
    30,
    "Isolate the heater at the board (a lower set point does not open a welded relay); the chiller",
    [
      sees(["temperature"], "rises", 2.5, "temperature rises", NEEDED),
      word("chiller", ["fault", "off"], 3, "the chiller does not run"),
      word("heater", ["on"], 1.5, "the heater is on"),
      sees(OXYGEN, "falls", 0.5, "oxygen in mg/L falls as warm water holds less"),
    ],
    {
      caution: ELECTRIC,
      against: [
        { elsewhere: "temperature", does: "rises", weight: 3, says: "other systems warm with it" },
        { onPlan: "temperature", weight: 4, says: "the plan asks for it" },
      ],
    },
  ),
  failure(
    "cooling",
    "Heater failed or chiller stuck on",
    120,
    "The heater; shut the chilled loop",
    [
      sees(["temperature"], "falls", 2.5, "temperature falls", NEEDED),
      word("heater", ["off"], 1, "the heater is off"),
      word("chiller", ["running"], 1.5, "the chiller runs"),
    ],
    {
      caution: ELECTRIC,
      against: [
        { onPlan: "temperature", weight: 4, says: "the plan asks for it" },
        sees(SALT, "falls", 2, "salinity falls with it: water comes in"),
      ],
    },
  ),
  failure(
    "top-off-open",
    "Top-off valve stuck open",
    60,
    "Shut the top-off valve; raise salinity no faster than the curator's word",
    [
      sees(SALT, "falls", 2.5, "salinity falls", NEEDED),
      sees(["level"], "rises", 2, "level rises", { at: "anywhere" }),
      sees(["make_up_volume"], "rises", 2, "the make-up meter keeps counting", { at: "anywhere" }),
      word("float", ["high"], 1.5, "a float is high"),
    ],
    { against: [logged(["water-change"], 2, "water was changed")] },
  ),
  failure(
    "top-off-failed",
    "Top-off does not fill",
    DAY,
    "The top-off valve and its supply; refill slowly",
    [
      sees(SALT, "rises", 2.5, "salinity rises", { over: "days", ...NEEDED }),
      sees(["level"], "falls", 2, "level falls", { at: "anywhere", over: "days" }),
      word("float", ["low"], 1.5, "a float is low"),
      sees(["make_up_volume"], "steady", 1, "the make-up meter counts no more than usual", {
        at: "anywhere",
      }),
    ],
    { against: [logged(["dosing"], 3, "salt was added")] },
  ),
  failure(
    "probe-fouled",
    "A fouled probe: one channel drifts, the others agree with each other",
    DAY,
    "Clean the probe and compare it with a bench test before believing it",
    [
      { finding: "drifting", weight: 5, says: "it left its bench tests", needed: true },
      { finding: "disagreeing", weight: 2, says: "its twin does not agree", needed: true },
      sees(OXYGEN, "falls", 2, "oxygen falls slowly, over days", { over: "days", ...NEEDED }),
      sees(["ph"], "steady", 1, "pH does not move with it"),
    ],
    { any: true, against: [sees(["flow"], "steps down", 2, "flow stepped down", { at: "anywhere" })] },
  ),
  failure(
    "ph-probe-drift",
    "The pH probe has drifted",
    DAY,
    "Two-point calibration; replace the electrode below about 85 to 90 % slope",
    [
      sees(["ph"], "moves", 2, "the probe's pH moves over days", {
        over: "days",
        origin: "probe",
        ...NEEDED,
      }),
      sees(["ph"], "steady", 3, "the bench finds the same pH", { origin: "bench", ...NEEDED }),
      sees(["alkalinity"], "steady", 1, "alkalinity is as it was", { at: "anywhere" }),
      { finding: "drifting", of: "ph", weight: 2, says: "the chart against the bench says so" },
    ],
  ),
  failure(
    "alkalinity-used",
    "Alkalinity is being used up",
    DAY,
    "Alkalinity by a second method; then buffer, at most 0.5 meq/L a day",
    [
      sees(["alkalinity"], "falls", 3, "alkalinity falls", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["ph"], "falls", 2, "pH falls, by the bench too", { over: "days" }),
      sees(["calcium"], "steady", 1, "calcium stays", { over: "days", at: "anywhere" }),
    ],
    { against: [{ methodOf: ["alkalinity"], weight: 3, says: "the method changed" }] },
  ),
  failure(
    "biofilter",
    "A young or shocked biofilter",
    480,
    "Ammonia and nitrite again; less feed, water change; watch un-ionised ammonia",
    [
      sees(["total_ammonia"], "rises", 3, "ammonia rises", { at: "anywhere", ...NEEDED }),
      sees(["nitrite"], "rises", 2.5, "nitrite rises", { at: "anywhere" }),
      sees(["alkalinity"], "falls", 1, "alkalinity falls", { at: "anywhere" }),
    ],
    { against: [logged(["water-change"], 1, "water was changed")] },
  ),
  failure(
    "calcification",
    "Calcium and alkalinity fall together: corals outgrow the dosing",
    DAY,
    "The calcium reactor and its gas; stop dosing until tested by a second method",
    [
      sees(["alkalinity"], "falls", 2.5, "alkalinity falls", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["calcium"], "falls", 3, "calcium falls with it", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["ph"], "steady", 0.5, "pH keeps its course"),
    ],
    { against: [{ methodOf: ["alkalinity", "calcium"], weight: 3, says: "the method changed" }] },
  ),
  failure(
    "copper-off",
    "Copper is not where the dose should have put it",
    480,
    "Test again; the true volume of the tank; carbon off",
    [
      sees(["copper"], "moves", 3, "copper moves", { at: "anywhere", ...NEEDED }),
      logged(["treatment"], 2, "a treatment was logged", true),
    ],
    {
      caution: "Never on water that sharks, rays or invertebrates share.",
      against: [{ methodOf: ["copper"], weight: 4, says: "the method changed" }],
    },
  ),
  failure(
    "chlorine-make-up",
    "Chlorine in the make-up water",
    5,
    "Stop the fill, aerate; the carbon's age and contact time",
    [
      sees(CHLORINES, "rises", 3, "chlorine is found", { at: "anywhere", ...NEEDED }),
      logged(["water-change"], 2, "water was changed"),
      sees(["orp"], "rises", 1, "display ORP is nudged up"),
      sees(["total_ammonia"], "rises", 0.5, "ammonia rises (chloramine)", { at: "anywhere" }),
    ],
    { caution: CHLORINE },
  ),
  failure(
    "gas-pressure",
    "Air drawn in on the suction side of a pump",
    60,
    "Unions, seals and strainers on the suction side; the sump level",
    [
      sees(["total_gas_pressure"], "rises", 3, "gas pressure rises", NEEDED),
      sees([...OXYGEN, "oxygen_saturation"], "steady", 2, "oxygen does not: the excess is nitrogen"),
      sees(["barometric_pressure"], "steady", 1, "the barometer stands", { at: "anywhere" }),
      logged(["out-of-service", "note", "backwash"], 0.5, "work on the system was logged"),
    ],
  ),
  failure(
    "degas-failed",
    "Degas tower or room air has failed",
    240,
    "The tower's fan; fresh air into the room",
    [
      sees(["ph"], "falls", 2.5, "pH falls", { ...NEEDED }),
      sees(["carbon_dioxide", "pco2"], "rises", 2.5, "carbon dioxide rises", { at: "anywhere" }),
      sees(["alkalinity"], "steady", 1.5, "alkalinity is as it was", { at: "anywhere" }),
      sees(OXYGEN, "steady", 1.5, "oxygen is as it was"),
    ],
    {
      caution: CONFINED,
      against: [
        logged(["dosing"], 4, "a dose was logged"),
        sees(["ph"], "steady", 4, "the bench finds the same pH", { origin: "bench" }),
      ],
    },
  ),
  failure("filter-blinding", "A filter is blinding", DAY, "Backwash; look at the media", [
    sees(["filter_pressure_difference"], "rises", 3, "pressure over the filter rises", {
      at: "anywhere",
      over: "days",
      ...NEEDED,
    }),
    sees(["flow"], "falls", 2, "flow sags", { at: "anywhere", over: "days" }),
    sees(["turbidity"], "rises", 0.5, "turbidity rises"),
  ]),
  failure(
    "drain-leak",
    "A leak, or a backwash valve left open",
    10,
    "Go and look: drains, backwash valves, the floor",
    [
      sees(["level"], "falls", 2.5, "level falls", { at: "anywhere", ...NEEDED }),
      word("leak", ["wet"], 4, "a leak sensor is wet", true),
      word("float", ["low"], 1.5, "a float is low"),
      sees(["make_up_volume"], "rises", 2, "make-up runs", { at: "anywhere" }),
      sees(SALT, "falls", 1, "salinity falls"),
    ],
    {
      any: true,
      caution: ELECTRIC,
      against: [
        sees(SALT, "rises", 3, "salinity rises: water leaves as vapour"),
        sees(["flow"], "steps down", 2, "flow stepped down", { at: "anywhere" }),
      ],
    },
  ),
  failure(
    "anoxic",
    "An anoxic pocket in sand, filter or denitrifier",
    5,
    "Do not stir; bypass the filter and ventilate",
    [
      sees(["sulphide"], "rises", 4, "sulphide is found", { at: "anywhere", ...NEEDED }),
      sees(["orp"], "falls", 2.5, "ORP of a filter falls", { at: "isAtFilter", ...NEEDED }),
      sees(["nitrate"], "falls", 2, "nitrate falls", { over: "days", at: "anywhere" }),
    ],
    { any: true, caution: SULPHIDE },
  ),
  failure(
    "logger-fault",
    "Logger, gateway or network: no data, whatever the numbers say",
    60,
    "Send somebody with a handheld; then the gateway and its power",
    [{ stopped: 3, weight: 5, says: "several streams stopped or froze together", needed: true }],
  ),
  failure(
    "channel-hangs",
    "One channel hangs: its probe, cable or logger input",
    60,
    "Hold a handheld beside it, then the logger's input",
    [
      { finding: "stuck", weight: 3, says: "its value does not move", needed: true },
      { finding: "exposed", weight: 2, says: "it reads what it cannot be", needed: true },
    ],
    { any: true },
  ),
  harmless(
    "probe-cleaned",
    "A probe was cleaned or calibrated: its step is no water",
    "Nothing, once the bench agrees",
    [logged(["probe-clean", "probe-swap", "calibration"], 4, "probe work was logged", true)],
  ),
  harmless("feed-demand", "Demand after a feed", "Wait; both ORPs come back", [
    logged(["feed"], 2, "a feed was logged", true),
    sees(["orp"], "falls", 2, "display ORP falls", NEEDED),
    sees(["orp"], "falls", 2, "contact-chamber ORP falls with it", { at: "followsOzoneController" }),
  ]),
  harmless("backwash", "A backwash", "That it ended and its valve is shut", [
    logged(["backwash"], 4, "a backwash was logged", true),
    sees(["flow"], "falls", 2, "flow is low", { at: "anywhere" }),
  ]),
  harmless("warm-building", "The building is warm", "Room air and the chilled loop", [
    sees(["temperature"], "rises", 2, "temperature rises", NEEDED),
    { elsewhere: "temperature", does: "rises", weight: 4, says: "other systems warm together", needed: true },
  ]),
  harmless("on-plan", "It follows its plan", "Whether the right plan is in force", [
    { onPlan: "temperature", weight: 5, says: "the plan asks for this course", needed: true },
  ]),
  harmless("salt-added", "Salt was added", "Nothing, once it has mixed", [
    logged(["dosing", "water-change"], 4, "a dose or a water change was logged", true),
    sees(SALT, "rises", 2, "salinity rises", NEEDED),
  ]),
  harmless("overfed", "One feed too many", "Test again tomorrow: it goes by itself in a day or two", [
    sees(["total_ammonia"], "rises", 2, "ammonia rises", { at: "anywhere", ...NEEDED }),
    sees(["nitrite"], "steady", 2.5, "nitrite does not", { at: "anywhere", ...NEEDED }),
    logged(["feed"], 2, "a feed was logged", true),
  ]),
  harmless(
    "method-changed",
    "Another method or kit, not another water",
    "The same sample by the old method",
    [
      {
        methodOf: ["alkalinity", "calcium", "copper", "total_ammonia", "nitrate"],
        weight: 6,
        says: "the method changed between the tests",
        needed: true,
      },
    ],
  ),
  harmless("photosynthesis", "Plants and algae in the light", "Whether it goes with the light", [
    sees(["total_gas_pressure"], "rises", 2, "gas pressure rises", NEEDED),
    sees([...OXYGEN, "oxygen_saturation"], "rises", 3.5, "oxygen rises with it", NEEDED),
    sees(["illuminance"], "rises", 1, "in light", { at: "anywhere" }),
  ]),
  harmless("barometer", "The barometer falls", "Depth: it passes with the weather", [
    sees(["total_gas_pressure"], "rises", 2, "gas pressure rises", NEEDED),
    sees(["barometric_pressure"], "falls", 5, "the barometer falls", { at: "anywhere", ...NEEDED }),
  ]),
  harmless("acid-dosed", "A dose lowered the pH", "That dosing has stopped", [
    sees(["ph"], "falls", 2, "pH falls", NEEDED),
    logged(["dosing"], 4, "a dose was logged", true),
  ]),
  harmless("slower-pump", "A pump runs slower", "Who changed its speed", [
    sees(["flow"], "falls", 2, "flow falls", { at: "anywhere", over: "days", ...NEEDED }),
    sees(["filter_pressure_difference"], "falls", 2, "pressure over the filter falls with it", {
      at: "anywhere",
      over: "days",
    }),
    sees(["pump_power"], "falls", 2.5, "the pump takes less power", { at: "anywhere", over: "days" }),
  ]),
  harmless("evaporation", "Evaporation on a dry day", "That top-off keeps up", [
    sees(["level"], "falls", 2, "level falls", { at: "anywhere", ...NEEDED }),
    sees(SALT, "rises", 3, "salinity rises", NEEDED),
  ]),
  harmless("water-changed", "A water change", "The new water's own values", [
    logged(["water-change"], 4, "a water change was logged", true),
    sees(["nitrate"], "falls", 1.5, "nitrate falls", { at: "anywhere", over: "days" }),
  ]),
  failure(
    "animal-missing",
    "An animal is not where it was counted",
    30,
    "Count again; overflow, suction guards and the floor around it",
    [counted(["fewer"], "fewer animals are counted", true)],
    { against: [logged(["animal-move", "death"], 3, "a move or a death was logged")] },
  ),
  harmless(
    "birth",
    "A birth or hatch",
    "Mother and young breathe, none lies by the overflow; ammonia again within a day",
    [
      logged(["birth"], 4, "a birth or hatch was logged", true),
      counted(["more"], "more animals are counted", true),
    ],
  ),
  harmless("animals-moved", "Animals were moved", "That both systems count what the move says", [
    logged(["animal-move"], 4, "a move was logged", true),
    counted(["more", "fewer"], "another number is counted", true),
  ]),
  harmless(
    "counted-more",
    "A birth or move that nobody logged, or a miscount",
    "Count again; look for young by the overflow and suction guards",
    [counted(["more"], "more animals are counted", true)],
    { against: [logged(["birth", "animal-move"], 3, "a birth or a move was logged")] },
  ),
];
