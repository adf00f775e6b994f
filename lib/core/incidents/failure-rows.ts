/** Short ways to write the rows of the table of failures. */
import type { LogKindId } from "../logbook/kinds.ts";
import type { PointTrait } from "../set-up/point-role.ts";
import type { QuantityId, StateQuantityId } from "../units/quantity.ts";
import type { Does, Expectation, Failure } from "./failure.ts";

interface More {
  readonly at?: PointTrait | "loop" | "anywhere";
  readonly over?: "hours" | "days";
  readonly origin?: "bench" | "probe";
  readonly needed?: true;
}
export const NEEDED = { needed: true } as const;
/** Minutes. */
export const DAY = 1_440;

/** A sign that tells a failure from what looks like it. */
export const own = (expectation: Expectation): Expectation => ({ ...expectation, own: true });

/** What one of these quantities does. */
export const sees = (
  of: readonly QuantityId[],
  does: Does,
  weight: number,
  says: string,
  more: More = {},
): Expectation => ({ of, does, weight, says, ...more });

/** The word that a piece of equipment or a contact gives. */
export const word = (
  state: StateQuantityId,
  words: readonly string[],
  weight: number,
  says: string,
  needed?: true,
): Expectation => ({ state, words, weight, says, ...(needed ? NEEDED : {}) });

/** What people wrote in the logbook. */
export const logged = (
  kinds: readonly LogKindId[],
  weight: number,
  says: string,
  needed?: true,
): Expectation => ({ logged: kinds, weight, says, ...(needed ? NEEDED : {}) });

/** More or fewer animals than last time. */
export const counted = (rules: readonly ("more" | "fewer")[], says: string): Expectation => ({
  finding: "stepped",
  of: "animal_count",
  rules,
  weight: 3,
  says,
  ...NEEDED,
});

export const failure = (
  id: string,
  label: string,
  actWithinMinutes: number,
  checkFirst: string,
  expect: readonly Expectation[],
  more: Partial<Failure> = {},
): Failure => ({
  id,
  label,
  isFailure: true,
  isReturn: false,
  actWithinMinutes,
  checkFirst,
  expect,
  ...more,
});

/** An explanation that needs no action. */
export const harmless = (
  id: string,
  label: string,
  checkFirst: string,
  expect: readonly Expectation[],
  more: Partial<Failure> = {},
): Failure => failure(id, label, DAY, checkFirst, expect, { isFailure: false, ...more });
