/** Generated series for stories of failures: numbers by hours since the beginning, in the quantity's unit. */

import type { Seen } from "#core/incidents/cause.ts";
import { wayOf } from "#core/incidents/finding-way.ts";
import { signOf, type Track, type Way } from "#core/incidents/sign.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { isQuantityId, type QuantityId } from "#core/units/index.ts";

export const ONSET = Date.UTC(2026, 9, 20, 1);
export const NOW = ONSET + 3 * HOUR;

/** Small, repeatable noise in the last digit. */
const noise = (i: number, size: number) => size * (((i * 7_919) % 13) / 6 - 1);
const SIZE: Readonly<Record<string, number>> = {
  ph: 0.01,
  temperature: 0.02,
  orp: 2,
  salinity: 0.02,
  level: 2,
  flow: 0.5,
};

export type Course = (hours: number) => number;
export interface Story {
  /** "quantity" or "quantity/point": value by hours since the beginning. */
  readonly probes?: Readonly<Record<string, Course>>;
  /** Bench results: days before now and values, the last one newest. */
  readonly bench?: Readonly<Record<string, readonly (readonly [daysAgo: number, value: number])[]>>;
  readonly words?: Readonly<Record<string, string>>;
  readonly logged?: readonly string[];
  readonly elsewhere?: Readonly<Partial<Record<QuantityId, Way>>>;
  readonly findings?: readonly (Omit<Seen["findings"][number], "way" | "isReturn"> & {
    readonly isReturn?: true;
  })[];
  readonly sharing?: readonly Way[];
  readonly confirmed?: readonly string[];
  readonly plan?: Readonly<Record<string, number>>;
  readonly methodOf?: readonly string[];
}

function known(id: string): QuantityId {
  if (!isQuantityId(id)) throw new Error(`no quantity ${id} in the registry`);
  return id;
}

export function seen(story: Story): Seen {
  const base = {
    system: "pool",
    word: null,
    methodChanged: false,
    methods: 0,
    methodsAgree: false,
    planned: null,
  };
  const probes = Object.entries(story.probes ?? {}).map(([name, course]): Track => {
    const [quantity = "", point = "display"] = name.split("/");
    const at: number[] = [];
    const value: number[] = [];
    for (let t = NOW - 7 * DAY; t <= NOW; t += 15 * MINUTE) {
      at.push(t);
      const exact = course((t - ONSET) / HOUR);
      value.push(Number.isNaN(exact) ? exact : exact + noise(at.length, SIZE[quantity] ?? 0.001));
    }
    return {
      ...base,
      quantity: known(quantity),
      point,
      role: guessedRole(point),
      isBench: false,
      at,
      value,
      planned: story.plan?.[quantity] ?? null,
    };
  });
  const bench = Object.entries(story.bench ?? {}).map(
    ([quantity, rows]): Track => ({
      ...base,
      quantity: known(quantity),
      point: "display",
      role: "exhibit",
      isBench: true,
      at: rows.map(([days]) => NOW - days * DAY),
      value: rows.map(([, value]) => value),
      methodChanged: story.methodOf?.includes(quantity) ?? false,
      methods: story.methodOf?.includes(quantity) || story.confirmed?.includes(quantity) ? 2 : 1,
      methodsAgree: story.confirmed?.includes(quantity) ?? false,
    }),
  );
  const words = Object.entries(story.words ?? {}).map(([name, word]): Track => {
    const [quantity = "", point = "plant"] = name.split("/");
    return {
      ...base,
      quantity: known(quantity),
      point,
      role: guessedRole(point),
      isBench: false,
      at: [ONSET],
      value: [0],
      word,
    };
  });
  return {
    onset: ONSET,
    signs: [...probes, ...bench, ...words].map((track) => signOf(track, ONSET, NOW)),
    elsewhere: (Object.entries(story.elsewhere ?? {}) as [QuantityId, Way][]).flatMap(([quantity, way]) => [
      { quantity, way },
      { quantity, way },
    ]),
    logged: new Set(story.logged ?? []),
    sharing: (story.sharing ?? []).map((way) => ({ quantity: "temperature", way })),
    findings: (story.findings ?? []).map((row) => ({
      ...row,
      way: wayOf({ ...row, evidence: {} }),
      isReturn: row.isReturn ?? false,
    })),
    stopped: 0,
  };
}

export const after =
  (from: number, perHour: number): Course =>
  (h) =>
    from + perHour * Math.max(0, h);
export const step =
  (from: number, to: number): Course =>
  (h) =>
    h < 0 ? from : to;
export const still =
  (value: number): Course =>
  () =>
    value;
/** Moves by so much in seven days, evenly. */
export const slowly =
  (from: number, by: number): Course =>
  (h) =>
    from + (by * (h + 165)) / 168;
