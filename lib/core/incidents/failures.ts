/**
 * What goes wrong in aquarium water, by the signs it leaves, with what looks like it and is not. Common practice of life-support teams, no
 * source, the table as a whole: signs, times to act and first checks. Heat: 1 kW warms 1 m3 of sea water by 0.88 degC an hour (from its heat
 * capacity); gas pressure and depth after Colt 1984. Cautions about ozone in air: 0.1 ppm, OSHA and NIOSH tables.
 */
import type { QuantityId } from "../units/quantity.ts";
import type { Failure } from "./failure.ts";
import { counted, DAY, failure, harmless, logged, NEEDED, own, sees, word } from "./failure-rows.ts";

const OZONE_AIR = "Ozone in air is harmful above 0.1 ppm: leave, ventilate, measure; do not rely on smell.";
const ELECTRIC = "Isolate and lock out the supply before putting hands in the water.";
const CONFINED = "Sumps, towers and filters are confined spaces: never enter alone.";
const SULPHIDE = "Hydrogen sulphide kills people: do not stir or lean over it.";
const CHLORINE = "Never mix chlorine with acid or ammonia.";

const SALT: readonly QuantityId[] = ["salinity", "conductivity", "specific_conductance"];
const OXYGEN: readonly QuantityId[] = ["dissolved_oxygen"];
const METALS: readonly QuantityId[] = ["copper"];
const CHLORINES: readonly QuantityId[] = ["chlorine", "total_chlorine"];

export const FAILURES: readonly Failure[] = [
  failure(
    "ozone-overdose",
    "Too much ozone",
    15,
    "Stop the ozone, keep the water moving, test for residual oxidant",
    [
      sees(["orp"], "rises", 3, "display ORP rises", NEEDED),
      own(sees(["orp"], "rises", 1.5, "contact-chamber ORP rises with it", { at: "followsOzoneController" })),
      own(sees(["total_residual_oxidant"], "rises", 2, "residual oxidant is detected")),
      own(sees(["ozone_output"], "rises", 1, "ozone output rises", { at: "anywhere" })),
    ],
    {
      caution: OZONE_AIR,
      against: [
        logged(["probe-clean", "probe-swap", "calibration"], 3, "probe work was logged in the hours before"),
        logged(["water-change"], 1.5, "a water change was logged in the hours before"),
      ],
    },
  ),
  failure(
    "contact-orp-fouled",
    "Fouled contact-chamber ORP probe drives the ozone",
    30,
    "Set the ozone to a low fixed dose by hand; hold a second probe beside the contact one",
    [
      sees(["orp"], "falls", 2.5, "contact-chamber ORP falls", { at: "followsOzoneController", ...NEEDED }),
      sees(["orp"], "rises", 3, "display ORP rises meanwhile", NEEDED),
      sees(["ozone_output"], "rises", 1.5, "ozone output rises", { at: "anywhere" }),
    ],
    { caution: OZONE_AIR },
  ),
  failure(
    "pump-stopped",
    "A circulation pump has stopped",
    15,
    "The pump panel; restart it or start the standby, turn on air, stop feeding",
    [
      sees(["flow"], "steps down", 3, "flow stepped down", { at: "anywhere", ...NEEDED }),
      word("pump", ["stopped", "interlocked", "tripped"], 4, "a pump reports that it is not running", true),
      sees(OXYGEN, "falls", 1.5, "oxygen falls"),
      sees(["level"], "rises", 1, "sump level rises", { at: "showsLevel" }),
      sees(["orp"], "falls", 1, "contact-chamber ORP falls", { at: "followsOzoneController" }),
    ],
    { any: true, caution: ELECTRIC, against: [logged(["backwash"], 5, "a backwash was logged")] },
  ),
  failure(
    "power-lost",
    "Not on mains power: generator, or no supply",
    15,
    "The supply and the generator; then pumps, ozone, chillers",
    [
      word("mains", ["generator", "none"], 5, "the power supply reports generator or none", true),
      word("pump", ["stopped", "interlocked", "tripped"], 2, "pumps are not running"),
      sees(["flow"], "falls", 1.5, "flow falls", { at: "anywhere" }),
    ],
    { caution: ELECTRIC },
  ),
  failure(
    "oxygen-load",
    "Oxygen use exceeds supply: feed, animals or a failed degas fan",
    60,
    "Air and gas exchange; stop feeding; the degas tower's fan",
    [
      sees(OXYGEN, "falls", 2.5, "oxygen falls", NEEDED),
      own(sees(["ph"], "falls", 2, "pH falls with it (carbon dioxide)")),
      own(sees(["flow"], "steady", 1.5, "flow is unchanged", { at: "anywhere" })),
    ],
    { against: [sees(["temperature"], "rises", 2.5, "the water is warming, and warm water holds less")] },
  ),
  failure(
    "warming",
    "Heater stuck on or cooling lost",
    30,
    "Isolate the heater at the board (a lower set point does not open a welded relay); then the chiller",
    [
      sees(["temperature"], "rises", 2.5, "temperature rises", NEEDED),
      own(word("chiller", ["fault", "off"], 3, "the chiller is not running")),
      own(word("heater", ["on"], 1.5, "the heater is on")),
      own({ elsewhere: "temperature", does: "steady", weight: 1, says: "other systems are not warming" }),
      sees(OXYGEN, "falls", 0.5, "oxygen in mg/L falls as warm water holds less"),
    ],
    {
      caution: ELECTRIC,
      against: [
        { elsewhere: "temperature", does: "rises", weight: 3, says: "other systems are warming too" },
        { sharing: "temperature", does: "rises", weight: 3, says: "others on its loop are warming too" },
        { onPlan: "temperature", weight: 4, says: "the plan calls for it" },
      ],
    },
  ),
  failure(
    "cooling",
    "Heater failed or chiller stuck on",
    120,
    "The heater; shut off the chilled loop",
    [
      sees(["temperature"], "falls", 2.5, "temperature falls", NEEDED),
      own(word("heater", ["off"], 1, "the heater is off")),
      own(word("chiller", ["running"], 1.5, "the chiller is running")),
      own({ elsewhere: "temperature", does: "steady", weight: 1, says: "other systems are not cooling" }),
    ],
    {
      caution: ELECTRIC,
      against: [
        { elsewhere: "temperature", does: "falls", weight: 3, says: "other systems are cooling too" },
        { sharing: "temperature", does: "falls", weight: 3, says: "others on its loop are cooling too" },
        { onPlan: "temperature", weight: 4, says: "the plan calls for it" },
        sees(SALT, "falls", 2, "salinity falls with it: water is coming in"),
      ],
    },
  ),
  failure(
    "top-off-open",
    "Top-off valve stuck open",
    60,
    "Shut the top-off valve; raise salinity no faster than the curator allows",
    [
      sees(SALT, "falls", 2.5, "salinity falls", NEEDED),
      own(sees(["level"], "rises", 2, "level rises", { at: "anywhere" })),
      own(sees(["make_up_volume"], "rises", 2, "the make-up meter keeps counting", { at: "anywhere" })),
      own(word("float", ["high"], 1.5, "a float switch reads high")),
    ],
    { against: [logged(["water-change"], 2, "a water change was logged")] },
  ),
  failure(
    "top-off-failed",
    "Top-off is not filling",
    DAY,
    "The top-off valve and its supply; refill slowly",
    [
      sees(SALT, "rises", 2.5, "salinity rises", { over: "days", ...NEEDED }),
      own(sees(["level"], "falls", 2, "level falls", { at: "anywhere", over: "days" })),
      own(word("float", ["low"], 1.5, "a float switch reads low")),
      own(
        sees(["make_up_volume"], "steady", 1, "the make-up meter counts no more than usual", {
          at: "anywhere",
        }),
      ),
    ],
    { against: [logged(["dosing"], 3, "a dose was logged")] },
  ),
  failure(
    "probe-fouled",
    "A fouled probe: one channel drifts, the others agree with each other",
    DAY,
    "Clean the probe and compare it with a bench test before trusting it",
    [
      {
        finding: "drifting",
        rules: ["bench"],
        weight: 5,
        says: "it has drifted from its bench tests",
        ...NEEDED,
      },
      { finding: "disagreeing", rules: ["twin"], weight: 2, says: "it disagrees with its twin", ...NEEDED },
      sees(OXYGEN, "falls", 0.5, "oxygen falls slowly, over days", { over: "days" }),
    ],
    { any: true, against: [sees(["flow"], "steps down", 2, "flow stepped down", { at: "anywhere" })] },
  ),
  failure(
    "ph-probe-drift",
    "The pH probe has drifted",
    DAY,
    "Two-point calibration; replace the electrode below about 85 to 90 % slope",
    [
      {
        finding: "drifting",
        rules: ["bench"],
        weight: 5,
        says: "it has drifted from its bench tests",
        of: "ph",
        ...NEEDED,
      },
      sees(["ph"], "moves", 1, "the probe's pH changes over days", { over: "days", origin: "probe" }),
      sees(["ph"], "steady", 2, "bench tests find the same pH", { origin: "bench" }),
    ],
  ),
  failure(
    "alkalinity-used",
    "Alkalinity is being used up",
    DAY,
    "Test alkalinity by a second method; then buffer, at most 0.5 meq/L a day",
    [
      sees(["alkalinity"], "falls", 3, "alkalinity falls", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["ph"], "falls", 2, "pH falls", { over: "days" }),
      sees(["calcium"], "steady", 1, "calcium is unchanged", { over: "days", at: "anywhere" }),
    ],
    { against: [{ methodOf: ["alkalinity"], weight: 3, says: "the method changed" }] },
  ),
  failure(
    "biofilter",
    "A young or shocked biofilter",
    480,
    "Retest ammonia and nitrite; feed less, change water; watch un-ionised ammonia",
    [
      sees(["total_ammonia"], "rises", 3, "ammonia rises", { at: "anywhere", ...NEEDED }),
      own(sees(["nitrite"], "rises", 2.5, "nitrite rises", { at: "anywhere" })),
      own(sees(["alkalinity"], "falls", 1, "alkalinity falls", { at: "anywhere" })),
    ],
    { against: [logged(["water-change"], 1, "a water change was logged")] },
  ),
  failure(
    "calcification",
    "Calcium and alkalinity fall together: corals outgrow the dosing",
    DAY,
    "The calcium reactor and its gas supply; stop dosing until tested by a second method",
    [
      sees(["alkalinity"], "falls", 2.5, "alkalinity falls", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["calcium"], "falls", 3, "calcium falls with it", { over: "days", at: "anywhere", ...NEEDED }),
      sees(["ph"], "steady", 0.5, "pH is steady"),
    ],
    { against: [{ methodOf: ["alkalinity", "calcium"], weight: 3, says: "the method changed" }] },
  ),
  failure(
    "copper-off",
    "Copper is not at the level the dose should give",
    480,
    "Test again; the true volume of the tank; take carbon offline",
    [
      sees(["copper"], "moves", 3, "copper changes", { at: "anywhere", ...NEEDED }),
      logged(["treatment"], 2, "a treatment was logged", true),
    ],
    {
      caution: "Never dose copper in water shared with sharks, rays or invertebrates.",
      against: [{ methodOf: ["copper"], weight: 4, says: "the method changed" }],
    },
  ),
  failure(
    "chlorine-make-up",
    "Chlorine in the make-up water",
    5,
    "Stop the fill and aerate; then the carbon's age and contact time",
    [
      sees(CHLORINES, "rises", 3, "chlorine is detected", { at: "anywhere", ...NEEDED }),
      logged(["water-change"], 2, "a water change was logged"),
      sees(["orp"], "rises", 1, "display ORP rises slightly"),
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
      own(sees([...OXYGEN, "oxygen_saturation"], "steady", 2, "oxygen is steady, so the excess is nitrogen")),
      sees(["barometric_pressure"], "steady", 1, "the barometer is steady", { at: "anywhere" }),
      logged(["out-of-service", "note", "backwash"], 0.5, "work or a note was logged"),
    ],
  ),
  failure(
    "degas-failed",
    "Degas tower or room air has failed",
    240,
    "The tower's fan; fresh air into the room",
    [
      sees(["ph"], "falls", 2.5, "pH falls", { ...NEEDED }),
      own(sees(["carbon_dioxide", "pco2"], "rises", 2.5, "carbon dioxide rises", { at: "anywhere" })),
      own(sees(["alkalinity"], "steady", 1.5, "alkalinity is unchanged", { at: "anywhere" })),
      own(sees(OXYGEN, "steady", 1.5, "oxygen is unchanged")),
    ],
    {
      caution: CONFINED,
      against: [
        logged(["dosing"], 4, "a dose was logged"),
        sees(["ph"], "steady", 4, "bench tests find the same pH", { origin: "bench" }),
      ],
    },
  ),
  failure("filter-blinding", "A filter is blinding", DAY, "Backwash; look at the media", [
    sees(["filter_pressure_difference"], "rises", 3, "pressure drop across the filter rises", {
      at: "anywhere",
      over: "days",
      ...NEEDED,
    }),
    sees(["flow"], "falls", 2, "flow sags", { at: "anywhere", over: "days" }),
    sees(["turbidity"], "rises", 0.5, "turbidity rises"),
  ]),
  failure(
    "drain-leak",
    "Water is being lost: a leak, or a drain or backwash valve left open",
    10,
    "Go and look: drains, backwash valves, the floor, pumps that run dry",
    [
      sees(["level"], "falls", 2.5, "level falls", { at: "anywhere", ...NEEDED }),
      own(word("leak", ["wet"], 4, "a leak sensor is wet", true)),
      own({ finding: "exposed", rules: ["air"], weight: 4, says: "a probe reads as if in air" }),
      own(word("float", ["low"], 1.5, "a float switch reads low")),
      own(sees(["make_up_volume"], "rises", 2, "make-up is running", { at: "anywhere" })),
      own(sees(SALT, "steady", 1, "salinity is unchanged, so it has not evaporated")),
    ],
    {
      any: true,
      caution: `${ELECTRIC} ${CONFINED}`,
      against: [
        sees(SALT, "rises", 3, "salinity rises: water is evaporating"),
        sees(["flow"], "steps down", 2, "flow stepped down", { at: "anywhere" }),
      ],
    },
  ),
  failure(
    "place-in-air",
    "The place is out of the water: its level has fallen, or the probe was lifted out",
    15,
    "Go and look: the water level there, then the probe",
    [{ finding: "exposed", rules: ["air"], weight: 3, says: "a probe reads as if in air", ...NEEDED }],
    { caution: `${ELECTRIC} ${CONFINED}` },
  ),
  failure(
    "loop-off",
    "The shared loop is off: several systems on it move together",
    30,
    "The loop's own sensor, its chiller or heat pump and its pump, before any one system",
    [
      {
        sharing: "temperature",
        does: "rises",
        weight: 5,
        says: "systems on its loop are warming together",
        ...NEEDED,
      },
      {
        sharing: "temperature",
        does: "falls",
        weight: 5,
        says: "systems on its loop are cooling together",
        ...NEEDED,
      },
      own({
        elsewhere: "temperature",
        does: "steady",
        weight: 1,
        says: "systems on no such loop are steady",
      }),
      own(word("chiller", ["fault", "off"], 2, "the chiller is not running")),
      own(sees(["temperature"], "moves", 2, "the loop's own sensor moves too", { at: "loop" })),
    ],
    { any: true, caution: ELECTRIC },
  ),
  failure(
    "base-dosed",
    "A dose raised the pH, and with it un-ionised ammonia",
    60,
    "Stop the dose; test pH and total ammonia again",
    [
      logged(["dosing"], 3, "a dose was logged", true),
      sees(["ph"], "rises", 3, "pH rises", NEEDED),
      sees(["unionised_ammonia"], "rises", 2, "un-ionised ammonia rises with it", { at: "anywhere" }),
      sees(["total_ammonia"], "steady", 1, "total ammonia is unchanged", { at: "anywhere" }),
    ],
    {
      against: [sees(["illuminance"], "rises", 1, "light rises: plants raise pH by day", { at: "anywhere" })],
    },
  ),
  failure(
    "metal-found",
    "A metal has got into the water",
    60,
    "Send a second sample to the laboratory; look for brass or copper in contact with the water, and test the make-up",
    [
      sees(METALS, "rises", 2, "a metal rises", { at: "anywhere", ...NEEDED }),
      own({ confirmed: METALS, weight: 3, says: "a second method finds the same" }),
    ],
    {
      caution: "Sharks, rays and invertebrates bear very little copper: ask the curator and the vet at once.",
      against: [logged(["treatment"], 4, "a treatment was logged")],
    },
  ),
  failure(
    "anoxic",
    "An anoxic pocket in sand, filter or denitrifier",
    5,
    "Do not stir; bypass the filter and ventilate",
    [
      sees(["sulphide"], "rises", 4, "sulphide is detected", { at: "anywhere", ...NEEDED }),
      sees(["orp"], "falls", 2.5, "filter ORP falls", { at: "isAtFilter", ...NEEDED }),
      sees(["nitrate"], "falls", 2, "nitrate falls", { over: "days", at: "anywhere" }),
    ],
    { any: true, caution: SULPHIDE },
  ),
  failure(
    "logger-fault",
    "Logger, gateway or network fault: do not trust the numbers shown",
    60,
    "Send somebody with a handheld meter; then the gateway and its power",
    [{ stopped: 3, weight: 5, says: "several streams stopped or froze together", needed: true }],
  ),
  failure(
    "sender-clock",
    "The clock of the sender runs ahead: what it sends is held",
    60,
    "Set the sender’s clock; place what came at the corrected time",
    [{ isHeld: true, weight: 6, says: "readings come whose time cannot be believed", needed: true }],
  ),
  failure(
    "channel-hangs",
    "One channel is stuck: its probe, cable or logger input",
    60,
    "Hold a handheld meter beside it; then the logger input",
    [
      { finding: "stuck", rules: ["flat"], weight: 3, says: "its value is stuck", ...NEEDED },
      {
        finding: "exposed",
        rules: ["span"],
        weight: 2,
        says: "it reads an impossible value",
        ...NEEDED,
      },
    ],
    { any: true },
  ),
  harmless(
    "probe-cleaned",
    "A probe was cleaned or calibrated: the step is not in the water",
    "Nothing, once a bench test agrees",
    [logged(["probe-clean", "probe-swap", "calibration"], 4, "probe work was logged", true)],
  ),
  harmless(
    "returning",
    "The water goes back to its band",
    "That it does not overshoot, and comes back no faster than the animals bear",
    [{ returns: true, weight: 4, says: "it was past the other side of its band", needed: true }],
    { isReturn: true },
  ),
  harmless("feed-demand", "Oxidant demand after a feed", "Wait; both ORPs recover", [
    logged(["feed"], 2, "a feed was logged", true),
    sees(["orp"], "falls", 2, "display ORP falls", NEEDED),
    sees(["orp"], "falls", 2, "contact-chamber ORP falls with it", { at: "followsOzoneController" }),
  ]),
  harmless("backwash", "A backwash", "That it has ended and its valve is shut", [
    logged(["backwash"], 4, "a backwash was logged", true),
    sees(["flow"], "falls", 2, "flow falls", { at: "anywhere" }),
  ]),
  harmless("warm-building", "The building is warm", "Room air and the chilled loop", [
    sees(["temperature"], "rises", 2, "temperature rises", NEEDED),
    {
      elsewhere: "temperature",
      does: "rises",
      weight: 4,
      says: "other systems are warming too",
      needed: true,
    },
  ]),
  harmless("on-plan", "It follows its plan", "Whether the right plan is in force", [
    { onPlan: "temperature", weight: 5, says: "the plan calls for this change", needed: true },
  ]),
  harmless("salt-added", "Salt was added", "Nothing, once it has mixed", [
    logged(["dosing", "water-change"], 4, "a dose or a water change was logged", true),
    sees(SALT, "rises", 2, "salinity rises", NEEDED),
  ]),
  harmless("overfed", "Overfeeding", "Test again tomorrow: it clears by itself in a day or two", [
    sees(["total_ammonia"], "rises", 2, "ammonia rises", { at: "anywhere", ...NEEDED }),
    sees(["nitrite"], "steady", 2.5, "nitrite is steady", { at: "anywhere", ...NEEDED }),
    logged(["feed"], 2, "a feed was logged", true),
  ]),
  harmless(
    "method-changed",
    "A different method or kit, not a change in the water",
    "Test the same sample by the old method",
    [
      {
        methodOf: ["alkalinity", "calcium", "copper", "total_ammonia", "nitrate"],
        weight: 6,
        says: "the method changed between the tests",
        needed: true,
      },
    ],
  ),
  harmless("photosynthesis", "Plants and algae in the light", "Whether it follows the light", [
    sees(["total_gas_pressure"], "rises", 2, "gas pressure rises", NEEDED),
    sees([...OXYGEN, "oxygen_saturation"], "rises", 3.5, "oxygen rises with it", NEEDED),
    sees(["illuminance"], "rises", 1, "light rises", { at: "anywhere" }),
  ]),
  harmless("barometer", "The barometer falls", "Water depth; it passes with the weather", [
    sees(["total_gas_pressure"], "rises", 2, "gas pressure rises", NEEDED),
    sees(["barometric_pressure"], "falls", 5, "the barometer falls", { at: "anywhere", ...NEEDED }),
  ]),
  harmless("acid-dosed", "A dose lowered the pH", "That dosing has stopped", [
    sees(["ph"], "falls", 2, "pH falls", NEEDED),
    logged(["dosing"], 4, "a dose was logged", true),
  ]),
  harmless("slower-pump", "A pump is running slower", "Whether somebody changed its speed", [
    sees(["flow"], "falls", 2, "flow falls", { at: "anywhere", over: "days", ...NEEDED }),
    sees(["filter_pressure_difference"], "falls", 2, "pressure drop across the filter falls with it", {
      at: "anywhere",
      over: "days",
    }),
    sees(["pump_power"], "falls", 2.5, "the pump draws less power", { at: "anywhere", over: "days" }),
  ]),
  harmless("evaporation", "Evaporation on a dry day", "That top-off is keeping up", [
    sees(["level"], "falls", 2, "level falls", { at: "anywhere", ...NEEDED }),
    sees(SALT, "rises", 3, "salinity rises", NEEDED),
  ]),
  harmless("treatment", "A treatment stands in the log", "Whether it goes as its plan has it", [
    logged(["treatment"], 2, "a treatment was logged", true),
  ]),
  harmless("water-changed", "A water change", "The values of the new water", [
    logged(["water-change"], 4, "a water change was logged", true),
    sees(["nitrate"], "falls", 1.5, "nitrate falls", { at: "anywhere", over: "days" }),
  ]),
  failure(
    "animal-missing",
    "An animal is missing",
    30,
    "Count again; overflow, suction guards and the floor around the tank",
    [counted(["fewer"], "fewer animals were counted")],
    { against: [logged(["animal-move", "death"], 3, "a move or a death was logged")] },
  ),
  harmless(
    "birth",
    "A birth or hatch",
    "Mother and young are breathing, none is caught at the overflow; test ammonia again within a day",
    [
      logged(["birth"], 4, "a birth or hatch was logged", true),
      counted(["more"], "more animals were counted"),
    ],
  ),
  harmless("animals-moved", "Animals were moved", "That the counts in both systems match the move", [
    logged(["animal-move"], 4, "a move was logged", true),
    counted(["more", "fewer"], "the count changed"),
  ]),
  harmless(
    "counted-more",
    "A birth or move that nobody logged, or a miscount",
    "Count again; look for young at the overflow and suction guards",
    [counted(["more"], "more animals were counted")],
    { against: [logged(["birth", "animal-move"], 3, "a birth or a move was logged")] },
  ),
];
