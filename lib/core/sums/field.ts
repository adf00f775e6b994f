/** What a sum asks for, and how what was typed becomes the numbers it runs on. */
import { canonicalUnit } from "../units/canonical-unit.ts";
import {
  convert,
  convertible,
  type DisplayUnit,
  displayUnits,
  type NumberQuantityId,
  QUANTITIES,
  type Unit,
  unitLabel,
} from "../units/index.ts";
import { labelInSentence } from "../units/label-text.ts";

interface AnyField {
  readonly name: string;
  readonly label: string;
  /** May be left out. */
  readonly isOptional: boolean;
  readonly hint: string | null;
}
export interface NumberField extends AnyField {
  readonly kind: "number";
  readonly quantity: NumberQuantityId | null;
  /** Units it may be given in; the sum runs on the first. */
  readonly units: readonly DisplayUnit[];
  /** Taken where it is left out; null where that is a mistake or means "not known". */
  readonly usual: number | null;
  /** What a form begins with. */
  readonly example: number | null;
}
export interface ChoiceField extends AnyField {
  readonly kind: "choice";
  readonly choices: readonly { readonly value: string; readonly label: string }[];
  readonly usual: string;
}
export interface TextField extends AnyField {
  readonly kind: "text";
  readonly example: string;
}
export type Field = NumberField | ChoiceField | TextField;

export interface SumValues {
  /** Of a number field, in the first of its units; throws where a sum asks for a field that it does not name. */
  number(name: string): number;
  /** Null where an optional one was left out. */
  numberOrNull(name: string): number | null;
  text(name: string): string;
}

interface NumberOptions {
  readonly example?: number;
  readonly usual?: number;
  readonly isOptional?: boolean;
  readonly hint?: string;
  readonly label?: string;
}

const rest = ({ example, usual, isOptional, hint }: NumberOptions) => ({
  usual: usual ?? null,
  example: example ?? usual ?? null,
  isOptional: isOptional ?? usual !== undefined,
  hint: hint ?? null,
});

/** A field of a registry quantity: its label and its units come from there. */
export const ofQuantity = (
  name: string,
  quantity: NumberQuantityId,
  options: NumberOptions = {},
): NumberField => ({
  kind: "number",
  name,
  quantity,
  label: options.label ?? QUANTITIES[quantity].label,
  units: displayUnits(quantity),
  ...rest(options),
});

/** A field of something that is no quantity of the registry, in units that convert into one another. */
export const inUnits = (
  name: string,
  label: string,
  units: readonly (readonly [unit: Unit, decimals: number])[],
  options: NumberOptions = {},
): NumberField => ({
  kind: "number",
  name,
  label,
  quantity: null,
  units: units.map(([unit, decimals]) => ({ unit, label: unitLabel(unit), decimals })),
  ...rest(options),
});

export const choice = (
  name: string,
  label: string,
  choices: readonly (readonly [value: string, label: string])[],
  usual: string,
): ChoiceField => ({
  kind: "choice",
  name,
  label,
  choices: choices.map(([value, text]) => ({ value, label: text })),
  usual,
  isOptional: true,
  hint: null,
});

export const text = (name: string, label: string, example: string, hint: string): TextField => ({
  kind: "text",
  name,
  label,
  example,
  isOptional: false,
  hint,
});

/** Text that a sum may do without; empty where it is left out. */
export const optionalText = (name: string, label: string, hint: string): TextField => ({
  ...text(name, label, "", hint),
  isOptional: true,
});

/** What may be sent for a field: a number in the first of its units, a number with its unit, or text. */
export type Sent =
  | number
  | string
  | null
  | undefined
  | { readonly value: number | string; readonly unit?: string | undefined };

export interface InputIssue {
  readonly field: string;
  readonly value: string | null;
  readonly says: string;
  readonly remedy: string;
}

const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i;

function numberOf(sent: number | string): number | null {
  if (typeof sent === "number") return Number.isFinite(sent) ? sent : null;
  const plain = sent.trim().replace("−", "-");
  return NUMBER.test(plain) && Number.isFinite(Number(plain)) ? Number(plain) : null;
}

const isBlank = (sent: unknown) =>
  sent === null || sent === undefined || (typeof sent === "string" && sent.trim() === "");

/** A value in the sum's own unit, from one in a unit that the field names or that converts exactly. */
function inOwnUnit(field: NumberField, value: number, unit: string): number | null {
  const own = field.units[0] as DisplayUnit;
  if (unit === own.unit) return value;
  if (field.quantity !== null) {
    const known = canonicalUnit(field.quantity, unit);
    return known === undefined ? null : value * known.factor + known.offset;
  }
  return convertible(unit, own.unit) ? convert(value, unit as Unit, own.unit) : null;
}

function readNumber(field: NumberField, sent: Sent): number | null | InputIssue {
  const { value, unit } =
    typeof sent === "object" && sent !== null
      ? { unit: undefined, ...sent }
      : { value: sent, unit: undefined };
  if (isBlank(value)) {
    if (field.isOptional) return field.usual;
    return {
      field: field.name,
      value: null,
      says: "is missing",
      remedy: `give ${labelInSentence(field.label)}`,
    };
  }
  const issue = (says: string, remedy: string, shown: unknown = value): InputIssue => ({
    field: field.name,
    value: String(shown).slice(0, 80),
    says,
    remedy,
  });
  const number = numberOf(value as number | string);
  if (number === null) return issue("is not a number", "use digits and a decimal point, such as 25.4");
  const own = field.units[0] as DisplayUnit;
  const converted = isBlank(unit) ? number : inOwnUnit(field, number, (unit as string).trim());
  if (converted !== null) return converted;
  const units = field.units.map((each) => each.unit).join(", ");
  return issue(
    `is in "${String(unit).slice(0, 40)}", which is not a unit for this field`,
    `use one of ${units || own.unit}`,
  );
}

function readText(field: ChoiceField | TextField, sent: Sent): string | InputIssue {
  const value = typeof sent === "object" && sent !== null ? sent.value : sent;
  if (isBlank(value)) {
    if (field.kind === "choice") return field.usual;
    if (field.isOptional) return "";
    return { field: field.name, value: null, says: "is missing", remedy: field.hint ?? "give it" };
  }
  const plain = String(value).trim();
  if (field.kind === "text" || field.choices.some((each) => each.value === plain)) return plain;
  return {
    field: field.name,
    value: plain.slice(0, 80),
    says: "is not one of the choices",
    remedy: `use one of ${field.choices.map((each) => each.value).join(", ")}`,
  };
}

/** Values for a sum, or everything that is wrong with what was sent. Names no field has are issues too. */
export function readFields(
  fields: readonly Field[],
  sent: Readonly<Record<string, Sent>>,
):
  | { readonly ok: true; readonly values: SumValues }
  | { readonly ok: false; readonly issues: readonly InputIssue[] } {
  const issues: InputIssue[] = [];
  const numbers = new Map<string, number | null>();
  const texts = new Map<string, string>();
  for (const field of fields) {
    const value = Object.hasOwn(sent, field.name) ? sent[field.name] : undefined;
    const read = field.kind === "number" ? readNumber(field, value) : readText(field, value);
    if (typeof read === "object" && read !== null) issues.push(read);
    else if (typeof read === "string") texts.set(field.name, read);
    else numbers.set(field.name, read);
  }
  for (const name of Object.keys(sent)) {
    if (!fields.some((field) => field.name === name))
      issues.push({
        field: name.slice(0, 80),
        value: null,
        says: "is not a field of this sum",
        remedy: `use ${fields.map((field) => field.name).join(", ")}`,
      });
  }
  if (issues.length > 0) return { ok: false, issues };
  return { ok: true, values: valuesOf(numbers, texts) };
}

function valuesOf(
  numbers: ReadonlyMap<string, number | null>,
  texts: ReadonlyMap<string, string>,
): SumValues {
  const known = <T>(found: T | undefined, name: string): T => {
    if (found === undefined) throw new Error(`a sum asks for "${name}", which is none of its fields`);
    return found;
  };
  return {
    number: (name) => known(numbers.get(name) ?? undefined, name),
    numberOrNull: (name) => known(numbers.get(name), name),
    text: (name) => known(texts.get(name), name),
  };
}
