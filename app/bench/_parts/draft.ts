import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { BenchRequest } from "#contract/api.ts";
import type { FieldHere } from "#contract/bench-form-view.ts";
import type { Answer } from "#core/bench/answer.ts";
import { type BenchQuestion, questionAbout } from "#core/bench/bench-question.ts";
import type { BenchField, UnitChoice } from "#core/bench/field.ts";
import { type Qualifier, readTypedNumber, type TypedFault } from "#core/bench/typed-number.ts";
import { censoredDeviation, deviation } from "#core/habitat/deviation.ts";

/** One field as it stands: what was typed, never more. */
export interface Typed {
  readonly text: string;
  /** Unit code; the field's first unit where it was never chosen. */
  readonly unit: string;
  readonly method: string;
  readonly answer: Answer | null;
}
/** A form that is not saved yet. Plain data: it is kept on the device as it is. */
export interface Draft {
  /** Who types: nobody else's draft is shown or sent. */
  readonly by: string;
  readonly system: string;
  readonly clientId: string;
  readonly point: string;
  /** Null: now, until the first character fixes it. */
  readonly sampledAt: number | null;
  readonly typed: Readonly<Record<string, Typed>>;
  /** Quantities added by hand, in order. */
  readonly added: readonly string[];
  readonly note: string;
  readonly changedAt: number;
}

export const hasText = (draft: Draft): boolean =>
  draft.note.trim() !== "" || Object.values(draft.typed).some(({ text }) => text.trim() !== "");

export const unitOf = (field: BenchField, typed: Typed | undefined): UnitChoice => {
  const found = field.units.find((one) => one.typed === typed?.unit) ?? field.units[0];
  if (!found) throw new Error(`${field.quantity} has no unit to type it in`);
  return found;
};

/** What a field holds, judged. */
export type Examined =
  | { readonly kind: "empty" }
  | { readonly kind: "fault"; readonly fault: TypedFault }
  | {
      readonly kind: "read";
      readonly value: number;
      readonly qualifier: Qualifier;
      readonly typed: string;
      readonly asked: BenchQuestion | null;
      /** How it stands against its band; null where there is none. */
      readonly seen: SeenAs | null;
      readonly deviation: number | null;
    };

const seenOf = (past: number | null): SeenAs => {
  if (past === null) return "doubtful";
  if (past === 0) return "calm";
  return Math.abs(past) >= 1 ? "action" : "look";
};

/** Reads and judges one field, as the server will. */
export function examine({ field, band, last }: FieldHere, typed: Typed | undefined): Examined {
  const text = typed?.text ?? "";
  if (text.trim() === "") return { kind: "empty" };
  const unit = unitOf(field, typed);
  const read = readTypedNumber(text, field, unit);
  if (!read.ok) return { kind: "fault", fault: read.fault };
  const { value, qualifier } = read;
  const past = { last: last.filter((row) => row.qualifier === "=").map((row) => row.value), band };
  const judged =
    band === null
      ? null
      : qualifier === "="
        ? deviation(value, band)
        : censoredDeviation(value, qualifier === "<" ? "below" : "above", band);
  const hasEdge = band !== null && (band.low !== null || band.high !== null);
  return {
    kind: "read",
    value,
    qualifier,
    typed: read.typed,
    asked: questionAbout(field, { value, qualifier, unit }, past),
    seen: hasEdge ? seenOf(judged) : null,
    deviation: judged,
  };
}

/** The request that stores a draft; fields that are empty or cannot be read are left out, which the form does not let happen unseen. */
export function requestOf(draft: Draft, here: readonly FieldHere[], now: number): BenchRequestBody {
  const results = here.flatMap((row): BenchRequestBody["results"] => {
    const typed = draft.typed[row.field.quantity];
    const examined = examine(row, typed);
    if (examined.kind !== "read" || !typed) return [];
    const { asked } = examined;
    const method = typed.method.trim();
    return [
      {
        quantity: row.field.quantity,
        value: `${examined.qualifier === "=" ? "" : examined.qualifier}${examined.typed}`,
        unit: unitOf(row.field, typed).typed,
        ...(method === "" ? {} : { method }),
        ...(asked ? { answer: typed.answer ?? "unanswered", asked: asked.says } : {}),
      },
    ];
  });
  const note = draft.note.trim();
  return {
    clientId: draft.clientId,
    system: draft.system,
    point: draft.point,
    sampledAt: new Date(draft.sampledAt ?? now).toISOString(),
    ...(note === "" ? {} : { note }),
    results,
  };
}
/** As it is sent: the instant as text. */
export type BenchRequestBody = Omit<BenchRequest, "sampledAt"> & { readonly sampledAt: string };
