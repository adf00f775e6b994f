/** A forecast with an interval whose coverage was measured on the same stream. */
import { clippedAlpha, halfWidth, nextAlpha } from "./conformal.ts";
import { type Outlook, outlookOf } from "./path.ts";

const WANTED = 0.1;
const GAMMA = 0.02;
/** Errors of the last fourteen days make the interval. */
const KEPT_HOURS = 14 * 24;
const EVERY = 3;
const LEAST_ERRORS = 10;
/** How much wider than the largest error for each unit that the aimed-at share lies below what so few errors can tell. Our own. */
const WIDEN = 4;
const LEAST_ORIGINS = 30;
const STATED = [0.85, 0.95] as const;

export interface Ahead {
  readonly hours: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** Share of past origins whose interval held what came, and how many there were with an interval; null for none. */
  readonly coverage: number | null;
  readonly origins: number;
  /** Origins without a finite interval. */
  readonly unbounded: number;
  /** True where the stated 90 % is what was measured on this stream (85 to 95 % over at least 30 origins). */
  readonly isStated: boolean;
}

const SEEN_HOURS = 8 * 24;
const FIRST_ORIGIN = 48;

/** The outlooks that errors are counted by, one every three hours, and the one of now last. */
function outlooksOf(hours: readonly number[]): readonly (Outlook | null)[] {
  const outlooks: (Outlook | null)[] = [];
  for (let origin = FIRST_ORIGIN; origin < hours.length - 1; origin += EVERY)
    outlooks.push(outlookOf(hours.slice(Math.max(0, origin + 1 - SEEN_HOURS), origin + 1)));
  outlooks.push(outlookOf(hours.slice(-SEEN_HOURS)));
  return outlooks;
}

/**
 * What is expected `ahead` hours from the end of `hours` (one value an hour, NaN where none), with a 90 % interval from this stream's own
 * errors: an error counts only once its target time has passed. `outlooks`: of the same hours, where several are asked for.
 */
export function forecast(hours: readonly number[], ahead: number, outlooks = outlooksOf(hours)): Ahead {
  const errors: { readonly target: number; readonly size: number }[] = [];
  let alpha = WANTED;
  let [covered, bounded, unbounded] = [0, 0, 0];
  const pending: { readonly target: number; readonly expected: number; readonly half: number | null }[] = [];
  const settle = (now: number) => {
    while (pending[0] && pending[0].target <= now) {
      const due = pending.shift() as (typeof pending)[number];
      const came = hours[due.target];
      if (came === undefined || !Number.isFinite(came)) continue;
      const size = Math.abs(came - due.expected);
      errors.push({ target: due.target, size });
      if (due.half === null) {
        unbounded++;
        // An interval without end holds everything.
        alpha = nextAlpha(alpha, WANTED, GAMMA, true);
        continue;
      }
      bounded++;
      const isHeld = size <= due.half;
      if (isHeld) covered++;
      alpha = nextAlpha(alpha, WANTED, GAMMA, isHeld);
    }
  };
  const widthNow = (now: number) => {
    const recent = errors
      .filter((error) => error.target > now - KEPT_HOURS - ahead)
      .map((error) => error.size);
    const finest = 1 / (recent.length + 1);
    const half = halfWidth(recent, Math.max(finest, clippedAlpha(alpha)));
    if (half === null || recent.length < LEAST_ERRORS) return null;
    // Misses that even the largest error does not hold widen past it.
    return alpha < finest ? half * (1 + WIDEN * (finest - alpha)) : half;
  };
  for (const [i, outlook] of outlooks.slice(0, -1).entries()) {
    const origin = FIRST_ORIGIN + i * EVERY;
    settle(origin);
    if (outlook) pending.push({ target: origin + ahead, expected: outlook(ahead), half: widthNow(origin) });
  }
  const now = hours.length - 1;
  settle(now);
  const value = outlooks.at(-1)?.(ahead) ?? null;
  const half = widthNow(now);
  const coverage = bounded === 0 ? null : covered / bounded;
  return {
    hours: ahead,
    value,
    low: value === null || half === null ? null : value - half,
    high: value === null || half === null ? null : value + half,
    coverage,
    origins: bounded,
    unbounded,
    isStated: coverage !== null && bounded >= LEAST_ORIGINS && coverage >= STATED[0] && coverage <= STATED[1],
  };
}

export interface Crossing {
  /** Hours from now: the first at which the interval, and at which all of it, is past the limit; null where that is not within seven days. */
  readonly earliest: number | null;
  readonly latest: number | null;
  readonly isStated: boolean;
}
const STEPS = [1, 3, 6, 12, 24, 36, 48, 72, 96, 120, 144, 168];

/** When a limit is reached on a side (+1 upward, -1 downward). Null where nothing can be forecast. */
export function timeToLimit(hours: readonly number[], limit: number, side: 1 | -1): Crossing | null {
  let [earliest, latest]: [number | null, number | null] = [null, null];
  let isStated = true;
  let any = false;
  const outlooks = outlooksOf(hours);
  for (const step of STEPS) {
    const ahead = forecast(hours, step, outlooks);
    if (ahead.low === null || ahead.high === null) continue;
    any = true;
    if (!ahead.isStated) isStated = false;
    const [outer, inner] = side > 0 ? [ahead.high, ahead.low] : [ahead.low, ahead.high];
    if (earliest === null && side * (outer - limit) >= 0) earliest = step;
    if (latest === null && side * (inner - limit) >= 0) latest = step;
    if (latest !== null) break;
  }
  return any ? { earliest, latest, isStated } : null;
}
