import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import type { AuthLimits } from "./port.ts";

/**
 * A shift of twelve hours without signing in again, a week at most; ten tries a quarter of an hour for an account. Lifetimes to be set and
 * documented: OWASP ASVS 5.0.0 7.1.1, 7.3.1, 7.3.2; limits: 6.1.1, 6.3.1; one-time passwords: 6.4.1. The figures are our own.
 */
export const AUTH_LIMITS: AuthLimits = {
  idleMs: 12 * HOUR,
  absoluteMs: 7 * DAY,
  attemptsAnAccount: 10,
  attemptsAnAddress: 100,
  windowMs: 15 * MINUTE,
  oneTimeMs: 3 * DAY,
  oneTimeAfterUseMs: 30 * MINUTE,
};
