/**
 * What people write in the logbook, and what each kind keeps quiet and for how long at most. Kinds, effects and caps: common practice,
 * no source; a cap is the longest time in which that work explains the water.
 */
import type { PointTrait } from "../set-up/point-role.ts";
import type { QuantityId } from "../units/index.ts";

/** What of a quantity is quiet: its rates, its band on one side, its comparison with other days, or all of it. */
export type QuietPart = "rate" | "low" | "all";
export interface QuietRule {
  /** A quantity of the registry, or the entry's own one ("that channel"). */
  readonly quantity: QuantityId | "own";
  readonly part: QuietPart;
  /** Only at points whose role has this property; null: whatever the point is for. */
  readonly at: PointTrait | null;
  /** Only at the point of this name ("that channel"); null: at every point of the entry's systems. */
  readonly point: string | null;
}
export interface LogKind {
  readonly label: string;
  /** It goes on for a while and is closed when it is over. */
  readonly lasts: boolean;
  /** At most so many minutes from its beginning; 0 = nothing is ever quiet. */
  readonly capMinutes: number;
  readonly quiet: readonly QuietRule[];
  /** What to do when it is still open past its cap. */
  readonly overdue: string;
}

const rule = (quantity: QuantityId | "own", part: QuietPart, at: PointTrait | null = null): QuietRule => ({
  quantity,
  part,
  at,
  point: null,
});
const CONTACT_ORP_LOW = rule("orp", "low", "followsOzoneController");
const OXYGEN_RATES = [rule("dissolved_oxygen", "rate"), rule("oxygen_saturation", "rate")];
const keepsNothingQuiet = { capMinutes: 0, quiet: [], overdue: "End the entry when it is over." } as const;

export const LOG_KINDS = {
  feed: {
    label: "Feed",
    lasts: false,
    capMinutes: 360,
    quiet: [rule("ph", "rate"), ...OXYGEN_RATES, CONTACT_ORP_LOW, rule("turbidity", "all")],
    overdue: "End the entry.",
  },
  "water-change": {
    label: "Water change",
    lasts: true,
    capMinutes: 120,
    quiet: [rule("temperature", "rate"), rule("salinity", "rate"), rule("ph", "rate")],
    overdue: "Close the fill and drain valves.",
  },
  backwash: {
    label: "Backwash",
    lasts: true,
    capMinutes: 30,
    quiet: [rule("flow", "all"), rule("filter_pressure_difference", "all"), rule("turbidity", "all")],
    overdue: "Close the valve.",
  },
  dosing: {
    label: "Dosing",
    lasts: false,
    capMinutes: 240,
    quiet: [rule("ph", "rate"), rule("alkalinity", "rate")],
    overdue: "Check that dosing has stopped.",
  },
  treatment: {
    label: "Treatment",
    lasts: true,
    capMinutes: 1_440,
    quiet: [rule("orp", "low")],
    overdue: "Log it again if the course continues.",
  },
  "animal-move": {
    label: "Animal moved",
    lasts: false,
    capMinutes: 120,
    quiet: OXYGEN_RATES,
    overdue: "End the entry.",
  },
  "animal-note": { label: "Animal note", lasts: false, ...keepsNothingQuiet },
  birth: { label: "Birth or hatch", lasts: false, ...keepsNothingQuiet },
  death: { label: "Death", lasts: false, ...keepsNothingQuiet },
  breeding: { label: "Breeding", lasts: false, ...keepsNothingQuiet },
  calibration: {
    label: "Calibration",
    lasts: true,
    capMinutes: 30,
    quiet: [rule("own", "all")],
    overdue: "Put the probe back in the water.",
  },
  "probe-clean": {
    label: "Probe cleaned",
    lasts: true,
    capMinutes: 30,
    quiet: [rule("own", "all")],
    overdue: "Put the probe back in the water.",
  },
  "probe-swap": {
    label: "Probe replaced",
    lasts: true,
    capMinutes: 30,
    quiet: [rule("own", "all")],
    overdue: "Put the probe back in the water.",
  },
  "out-of-service": {
    label: "Out of service",
    lasts: true,
    capMinutes: 720,
    quiet: [rule("own", "all")],
    overdue: "Put it back in service, or log it again with a new time.",
  },
  valve: { label: "Valve opened or isolated", lasts: false, ...keepsNothingQuiet },
  "work-in-water": {
    label: "Divers, aquascaping, gravel",
    lasts: true,
    capMinutes: 180,
    quiet: [rule("turbidity", "all"), rule("orp", "low")],
    overdue: "Check that everybody is out of the water.",
  },
  "lights-change": { label: "Light schedule changed", lasts: false, ...keepsNothingQuiet },
  outage: { label: "Storm, power cut, mains work", lasts: true, ...keepsNothingQuiet },
  "set-point": { label: "Set point changed", lasts: false, ...keepsNothingQuiet },
  "lamp-change": {
    label: "Ozone or UV lamp changed",
    lasts: false,
    capMinutes: 360,
    quiet: [CONTACT_ORP_LOW],
    overdue: "End the entry.",
  },
  round: { label: "Round", lasts: false, ...keepsNothingQuiet },
  note: { label: "Note", lasts: false, ...keepsNothingQuiet },
} as const satisfies Record<string, LogKind>;

export type LogKindId = keyof typeof LOG_KINDS;
export const LOG_KIND_IDS = Object.keys(LOG_KINDS) as [LogKindId, ...LogKindId[]];

/** The kind of that id, or undefined when there is none. */
export function logKind(id: string): LogKind | undefined {
  return Object.hasOwn(LOG_KINDS, id) ? LOG_KINDS[id as LogKindId] : undefined;
}
