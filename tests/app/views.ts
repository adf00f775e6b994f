/** An invented morning for the tests of the pages: hand-made states, in the shape that the services return. */

import type { FindingView, StreamState, SystemState, SystemsView } from "#contract/views.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";

/** 2026-10-29 07:12 UTC, a Thursday. */
export const NOW = Date.UTC(2026, 9, 29, 7, 12);
export const MINUTES = 60_000;

type Edges = NonNullable<StreamState["band"]>;

/** low, high, action low, action high. */
export function edges(
  low: number | null,
  high: number | null,
  actionLow: number | null,
  actionHigh: number | null,
): Edges {
  return { low, high, actionLow, actionHigh, urgentLow: null, urgentHigh: null };
}

let next = 0;

export function stream(given: Partial<StreamState> = {}): StreamState {
  next += 1;
  return {
    stream: next,
    point: "display",
    role: guessedRole(given.point ?? "display"),
    quantity: "temperature",
    label: "Temperature",
    unit: "Cel",
    unitLabel: "°C",
    decimals: 1,
    origin: "probe",
    critical: true,
    at: NOW - MINUTES,
    value: 15.6,
    low: null,
    high: null,
    word: null,
    flag: 1,
    reasons: [],
    received: NOW - MINUTES + 400,
    silent: false,
    deviation: 0,
    band: edges(14.4, 16.2, 12, 18),
    bandSource: "invented for tests",
    rate: -0.05,
    plan: null,
    sweepLow: 15.2,
    sweepHigh: 15.7,
    standing: "calm",
    ...given,
  };
}

export function system(code: string, streams: StreamState[], given: Partial<SystemState> = {}): SystemState {
  return {
    system: code,
    name: code,
    site: "north",
    kind: "temperate marine",
    type: "exhibit",
    water: "marine",
    volume: 10,
    loops: [],
    residents: [],
    standing: "calm",
    worst: 0,
    streams,
    findings: [],
    ...given,
  };
}

export function finding(given: Partial<FindingView> = {}): FindingView {
  return {
    id: "a",
    system: "jelly-ring",
    systemName: "Jelly Ring",
    point: "display",
    quantity: "total_gas_pressure",
    quantityLabel: "Total gas pressure",
    unitLabel: "%",
    decimals: 1,
    kind: "out of band",
    rule: "high",
    severity: "action",
    began: NOW - 11 * 60 * MINUTES,
    raised: NOW - 10 * 60 * MINUTES,
    ended: null,
    late: false,
    says: "Total gas pressure 106.4 %, action limit 103.0 %, since 20:12.",
    evidence: {},
    alarm: null,
    ...given,
  };
}

export function view(systems: SystemState[], given: Partial<SystemsView> = {}): SystemsView {
  return { now: NOW, zone: "Europe/London", siteName: "North", seq: 10, systems, oldest: null, ...given };
}
