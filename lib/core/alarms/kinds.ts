/** What follows from a kind of finding, for the evaluator, the store, the services and the pages. Sentences: see `SENTENCES`, which need a calendar. */
import type { FindingKind, RuleOf } from "./finding.ts";

/** The form of the short line for a phone at night; `shortWords` writes each. */
export type ShortForm = "value and edge" | "value and rate" | "word" | "not known" | "first clause";

export interface Traits {
  /** Water: by the readings' own time, judged again when late ones come. Receive: as it was known then, never judged again. */
  readonly clock: "water" | "receive";
  readonly short: ShortForm;
  /** What is drawn beside its sentence: the stream's course, the probe against its bench tests, nothing. */
  readonly proof: "course" | "bench" | null;
  /** Whether it is asked how long is left, and whether its own rate needs no other proof for that; null: there is no limit it moves to. */
  readonly timeLeft: "by trend" | "by its rate" | null;
  /** The way its value goes (worse, recovering) says something of it. */
  readonly hasCourse: boolean;
  /** Milder once the value is back within its action limit. */
  readonly easesWithinLimit: boolean;
  /** While it lasts the value is not known: it is grouped, marked and counted as such. */
  readonly isNotKnown: boolean;
  /** What is read meanwhile is no course of the water: nothing is forecast from it. */
  readonly isNoEvidence: boolean;
  /** Its stream stopped or froze: several of them together speak of a gateway. */
  readonly hasStopped: boolean;
  /** Its rule is a word of a state, which stays evidence of an incident after it was put right. */
  readonly tellsWord: boolean;
  /** What it says of the probe: the letter of NAMUR NE 107 and why; null where it speaks of the water or the equipment. */
  readonly probe: { readonly letter: "F" | "S"; readonly why: string } | null;
}
export interface KindSpec<K extends FindingKind> extends Traits {
  /** As sentences and screens name it. */
  readonly label: string;
  /** The rules it is raised by; null where they are words of a state or names of conditions. */
  readonly rules: { readonly [R in RuleOf<K>]: string extends R ? never : true } | null;
  /** Where a rule differs from its kind. */
  readonly ofRule?: { readonly [R in RuleOf<K>]?: Partial<Traits> };
}

/** Of the water, by its readings. */
const WATER = {
  clock: "water",
  short: "value and edge",
  proof: null,
  timeLeft: null,
  hasCourse: true,
  easesWithinLimit: false,
  isNotKnown: false,
  isNoEvidence: false,
  hasStopped: false,
  tellsWord: false,
  probe: null,
} as const satisfies Traits;

/** In order of what each says of a probe: the first that is open gives the reason of its letter. */
export const FINDING_KINDS = {
  "out of band": {
    ...WATER,
    label: "out of band",
    rules: { high: true, low: true },
    proof: "course",
    timeLeft: "by trend",
    easesWithinLimit: true,
  },
  "too fast": {
    ...WATER,
    label: "too fast",
    rules: { rising: true, falling: true },
    short: "value and rate",
    proof: "course",
    timeLeft: "by its rate",
  },
  stuck: {
    ...WATER,
    label: "stuck",
    rules: { flat: true },
    isNoEvidence: true,
    hasStopped: true,
    probe: { letter: "F", why: "its value is stuck" },
  },
  exposed: {
    ...WATER,
    label: "exposed",
    rules: { span: true, air: true },
    isNoEvidence: true,
    probe: { letter: "F", why: "it seems to be out of the water" },
  },
  drifting: {
    ...WATER,
    label: "drifting",
    rules: { bench: true, "time of day": true, trend: true, tests: true },
    // A trend and an unusual hour are of the water: the probe is not to blame for what it shows rightly.
    ofRule: {
      bench: {
        proof: "bench",
        isNoEvidence: true,
        probe: { letter: "S", why: "it has drifted from the bench tests" },
      },
    },
  },
  disagreeing: {
    ...WATER,
    label: "disagreeing",
    rules: { twin: true },
    probe: { letter: "S", why: "it no longer agrees with its twin: one of the two has drifted" },
  },
  noisy: {
    ...WATER,
    label: "noisy",
    rules: { noise: true },
    probe: { letter: "S", why: "its readings are noisier than they used to be" },
  },
  stepped: { ...WATER, label: "stepped", rules: { up: true, down: true, more: true, fewer: true } },
  silent: {
    ...WATER,
    label: "silent",
    clock: "receive",
    rules: { "": true, gap: true },
    short: "not known",
    proof: "course",
    hasCourse: false,
    isNotKnown: true,
    isNoEvidence: true,
    hasStopped: true,
    probe: { letter: "F", why: "no reading has arrived when expected" },
    // A gap found in a record belongs to the record.
    ofRule: { gap: { clock: "water" } },
  },
  "wrong state": {
    ...WATER,
    label: "wrong state",
    rules: null,
    short: "word",
    hasCourse: false,
    tellsWord: true,
  },
  "light off": {
    ...WATER,
    label: "light off",
    rules: { dark: true, hours: true, phase: true, clock: true },
    short: "first clause",
  },
  overrun: { ...WATER, label: "overrun", clock: "receive", rules: null, short: "first clause" },
} as const satisfies { readonly [K in FindingKind]: KindSpec<K> };

export const FINDING_KIND_NAMES = Object.keys(FINDING_KINDS) as [FindingKind, ...FindingKind[]];
export const isFindingKind = (kind: string): kind is FindingKind => Object.hasOwn(FINDING_KINDS, kind);

type OnClock<C extends Traits["clock"]> = {
  [K in FindingKind]: (typeof FINDING_KINDS)[K]["clock"] extends C ? K : never;
}[FindingKind];
/** Kinds that conditions of the water state become, and those that the receiving clock alone raises. */
export type WaterKind = OnClock<"water">;
export type ReceiveKind = OnClock<"receive">;

/** The same table, asked by a rule that is only known when it is read. */
interface AnySpec extends Traits {
  readonly ofRule?: Readonly<Record<string, Partial<Traits>>>;
}
const SPECS: Readonly<Record<FindingKind, AnySpec>> = FINDING_KINDS;

/** What follows from a kind raised by a rule; a rule that is not listed has what its kind has. */
export function traitsOf({ kind, rule }: { readonly kind: FindingKind; readonly rule: string }): Traits {
  const spec = SPECS[kind];
  const own = spec.ofRule;
  return own && Object.hasOwn(own, rule) ? { ...spec, ...own[rule] } : spec;
}

/** Raised from the receive state, on the receiving clock, and not by the readings of the water. */
export const isOfReceiving = <F extends { readonly kind: FindingKind; readonly rule: string }>(
  finding: F,
): finding is F & { readonly kind: ReceiveKind } => traitsOf(finding).clock === "receive";

/** Kinds on the receiving clock, and the rules that bring one of them back to the water's. */
export const RECEIVE_KINDS: readonly FindingKind[] = FINDING_KIND_NAMES.filter(
  (kind) => SPECS[kind].clock === "receive",
);
export const WATER_RULES: readonly string[] = RECEIVE_KINDS.flatMap((kind) =>
  Object.entries(SPECS[kind].ofRule ?? {}).flatMap(([rule, own]) => (own.clock === "water" ? [rule] : [])),
);
