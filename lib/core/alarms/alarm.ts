/**
 * A finding that somebody must answer in time. Base states of ANSI/ISA-18.2 / IEC 62682 as restated by OPC 10000-9:
 * normal, unacknowledged, acknowledged, returned to normal unacknowledged. Pure: time and the new condition are arguments.
 */
import type { Instant } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";
import type { FindingKind, Severity } from "./finding.ts";

export type AlarmState = "NORMAL" | "UNACK" | "ACK" | "RTN_UNACK";

export interface Alarm {
  readonly id: string;
  readonly finding: string;
  readonly system: string;
  readonly stream: number;
  readonly quantity: QuantityId;
  readonly kind: FindingKind;
  readonly rule: string;
  readonly severity: Severity;
  readonly state: AlarmState;
  /** Receive-time clock. */
  readonly raised: Instant;
  readonly cleared: Instant | null;
  readonly acknowledged: Instant | null;
  readonly acknowledgedBy: string | null;
}
export interface AlarmTransition {
  readonly alarm: string;
  readonly from: AlarmState;
  readonly to: AlarmState;
  readonly cause: string;
  readonly value: number | null;
  readonly limit: number | null;
  readonly eventAt: Instant;
  readonly at: Instant;
}

export type AlarmInput =
  | { readonly kind: "active"; readonly escalated: boolean }
  | { readonly kind: "cleared" }
  | { readonly kind: "acknowledged"; readonly by: string };

/**
 * The state after an input; the same state where the input changes nothing. A higher limit crossed makes an acknowledged alarm
 * unacknowledged again (our own rule: a more serious condition is a new question).
 */
export function nextAlarmState(state: AlarmState, input: AlarmInput): AlarmState {
  switch (input.kind) {
    case "active":
      if (state === "NORMAL" || state === "RTN_UNACK") return "UNACK";
      return state === "ACK" && input.escalated ? "UNACK" : state;
    case "cleared":
      if (state === "UNACK") return "RTN_UNACK";
      return state === "ACK" ? "NORMAL" : state;
    case "acknowledged":
      if (state === "UNACK") return "ACK";
      return state === "RTN_UNACK" ? "NORMAL" : state;
  }
}

/** Nobody has acknowledged it, whether it lasts or not. */
export const isUnacknowledged = (state: AlarmState): boolean => state === "UNACK" || state === "RTN_UNACK";

/** Acknowledged, still active and past an action limit: acknowledging is not answering, somebody writes down what was done. */
export const needsResponse = ({ state, severity }: Pick<Alarm, "state" | "severity">): boolean =>
  state === "ACK" && severity !== "look";

/** What an alarm still asks of people; null: it is answered. The one answer for every count and list of what is unanswered. */
export function asksFor(
  alarm: Pick<Alarm, "state" | "severity">,
  hasResponse: boolean,
): "acknowledgement" | "response" | null {
  if (isUnacknowledged(alarm.state)) return "acknowledgement";
  return needsResponse(alarm) && !hasResponse ? "response" : null;
}

/** Still on somebody's list: active, or returned to normal and not yet seen by a person. */
export const isStanding = (state: AlarmState): boolean => state !== "NORMAL";
