import { instantOfWall, wallText } from "#app/_components/controls/wall-input.ts";
import type { LogEntryView } from "#contract/log.ts";
import type { LogChoice } from "./log-choices.ts";

/** What the form of a log entry holds, as typed. */
export interface Typed {
  readonly kind: string;
  readonly systems: readonly string[];
  /** "quantity/point", or empty for the whole system. */
  readonly stream: string;
  readonly at: string;
  readonly until: string;
  readonly isOpen: boolean;
  readonly expected: string;
  readonly amount: string;
  readonly unit: string;
  readonly item: string;
  readonly animals: string;
  readonly text: string;
}

export type Wrong = Readonly<Record<string, string>>;

/** An entry as it would have been typed, to correct it. */
export function typedOf(entry: LogEntryView, zone: string): Typed {
  return {
    kind: entry.kind,
    systems: entry.systems.map(({ system }) => system),
    stream: entry.quantity === null ? "" : `${entry.quantity}/${entry.point ?? ""}`,
    at: wallText(entry.at, zone),
    until: entry.until === null ? "" : wallText(entry.until, zone),
    isOpen: entry.open,
    expected: entry.expected === null ? "" : wallText(entry.expected, zone),
    amount: entry.amount === null ? "" : String(entry.amount),
    unit: entry.unit ?? "",
    item: entry.item ?? "",
    animals: entry.animals.join(", "),
    text: entry.text,
  };
}

/** Decimal comma and thin blanks are typed too; null for what is no number. */
function numberOf(text: string): number | null {
  const plain = text.trim().replace(",", ".");
  const value = Number(plain);
  return plain === "" || !Number.isFinite(value) ? null : value;
}

const animalsOf = (text: string): string[] =>
  text
    .split(",")
    .map((name) => name.trim())
    .filter((name) => name !== "");
const systemsOf = (codes: readonly string[]): string[] => [...new Set(codes.filter((code) => code !== ""))];

/** What was typed, read; a field that cannot be read stands in `wrong`. */
function readTyped(typed: Typed, zone: string) {
  const wrong: Record<string, string> = {};
  const at = instantOfWall(typed.at, zone);
  const until = typed.until === "" || typed.isOpen ? undefined : instantOfWall(typed.until, zone);
  const expected = typed.expected === "" ? undefined : instantOfWall(typed.expected, zone);
  const amount = typed.amount.trim() === "" ? undefined : numberOf(typed.amount);
  if (typed.systems.every((code) => code === "")) wrong.systems = "Choose the system it was done to.";
  if (at === null) wrong.at = "Type a date and a time.";
  if (until === null) wrong.until = "Type a date and a time, or leave it empty.";
  else if (until !== undefined && at !== null && until < at) wrong.until = "The end is before the start.";
  if (expected === null) wrong.expected = "Type a date and a time, or leave it empty.";
  if (amount === null) wrong.amount = `"${typed.amount}" is not a number: type digits, like 8.5.`;
  if (amount !== undefined && typed.unit.trim() === "") wrong.unit = "Give the unit of the amount.";
  return { wrong, at, until, expected, amount };
}

/** The body of a new entry, or what is wrong before anything is sent, by field. */
export function bodyOf(
  typed: Typed,
  kind: LogChoice | undefined,
  zone: string,
  alarm: string,
): { readonly body: object } | { readonly wrong: Wrong } {
  const { wrong, at, until, expected, amount } = readTyped(typed, zone);
  if (kind === undefined) wrong.kind = "Choose what was done.";
  if (Object.keys(wrong).length > 0) return { wrong };
  const [quantity, point] = typed.stream === "" ? [] : typed.stream.split("/");
  const animals = animalsOf(typed.animals);
  return {
    body: {
      kind: typed.kind,
      systems: systemsOf(typed.systems),
      at,
      text: typed.text.trim(),
      ...(kind?.lasts && typed.isOpen ? { open: true } : {}),
      ...(until === undefined ? {} : { until }),
      ...(expected === undefined ? {} : { expected }),
      ...(quantity === undefined ? {} : { quantity, point }),
      ...(amount === undefined ? {} : { amount, unit: typed.unit.trim() }),
      ...(typed.item.trim() === "" ? {} : { item: typed.item.trim() }),
      ...(animals.length === 0 ? {} : { animals }),
      ...(alarm === "" ? {} : { alarm }),
    },
  };
}

/** The body of a correction: only what differs from `first`; null takes a field away. */
export function correctionOf(
  typed: Typed,
  first: Typed,
  zone: string,
  reason: string,
): { readonly body: object } | { readonly wrong: Wrong } {
  const { wrong, at, until, amount } = readTyped(typed, zone);
  if (reason.trim().length < 3) wrong.reason = "Give a reason: it is kept with the record.";
  if (Object.keys(wrong).length > 0) return { wrong };
  const isNew = (...fields: readonly (keyof Typed)[]) =>
    fields.some((field) => String(typed[field]) !== String(first[field]));
  const [quantity, point] = typed.stream === "" ? [null, null] : typed.stream.split("/");
  return {
    body: {
      reason: reason.trim(),
      ...(isNew("systems") ? { systems: systemsOf(typed.systems) } : {}),
      ...(isNew("stream") ? { quantity, point } : {}),
      ...(isNew("at") ? { at } : {}),
      ...(isNew("until") ? { until: until ?? null } : {}),
      ...(isNew("amount", "unit")
        ? { amount: amount ?? null, unit: amount === undefined ? null : typed.unit.trim() }
        : {}),
      ...(isNew("item") ? { item: typed.item.trim() === "" ? null : typed.item.trim() } : {}),
      ...(isNew("animals") ? { animals: animalsOf(typed.animals) } : {}),
      ...(isNew("text") ? { text: typed.text.trim() } : {}),
    },
  };
}
