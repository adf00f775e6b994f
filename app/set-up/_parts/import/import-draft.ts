import type { LookView } from "#contract/imports.ts";
import type { ImportPlan, ImportTarget } from "#core/importing/plan.ts";

/** What may be chosen: handed down by the page, so that the browser loads no registry. */
export interface ImportChoices {
  readonly systems: readonly {
    readonly system: string;
    readonly name: string;
    readonly zone: string;
    readonly points: readonly string[];
  }[];
  readonly quantities: readonly {
    readonly id: string;
    readonly label: string;
    /** The registry's first; empty for a state. */
    readonly units: readonly string[];
  }[];
}

/** A plan as the form has it. */
export interface ImportDraft {
  readonly encoding: ImportPlan["encoding"];
  readonly delimiter: string;
  readonly decimal: ImportPlan["decimal"];
  readonly headingLine: string;
  readonly timeColumn: string;
  /** Empty where date and time are in one column. */
  readonly secondTimeColumn: string;
  /** Empty until somebody has chosen it. */
  readonly format: ImportPlan["time"]["format"] | "";
  /** Empty: every time carries its own offset. */
  readonly zone: string;
  readonly twice: ImportPlan["time"]["twice"];
  /** One a line. */
  readonly missing: string;
  readonly kind: "wide" | "long";
  readonly nameColumn: string;
  readonly valueColumn: string;
  /** By column, or by name in a long file. */
  readonly targets: Readonly<Record<string, ImportTarget>>;
}

const NO_TARGET: ImportTarget = { system: "", point: "", quantity: "", unit: null };

/** The form as the file looks; what could be read two ways is left open. */
export function draftOf(look: LookView, encoding: ImportPlan["encoding"]): ImportDraft {
  const [time] = look.times;
  return {
    encoding,
    delimiter: look.delimiter ?? ",",
    decimal: ".",
    headingLine: "1",
    timeColumn: time?.column ?? look.header[0] ?? "",
    secondTimeColumn: "",
    format: time?.format ?? "",
    zone: "",
    twice: "refuse",
    missing: "",
    kind: "wide",
    nameColumn: "",
    valueColumn: "",
    targets: {},
  };
}

export const targetOf = (draft: ImportDraft, name: string): ImportTarget => draft.targets[name] ?? NO_TARGET;

/** What can be given a place: the other columns, or the names in the name column of the first rows. */
export function namesOf(draft: ImportDraft, look: LookView): readonly string[] {
  if (draft.kind === "wide")
    return look.header.filter(
      (name) => name !== "" && name !== draft.timeColumn && name !== draft.secondTimeColumn,
    );
  const index = look.header.indexOf(draft.nameColumn);
  return index < 0
    ? []
    : [...new Set(look.rows.map((row) => row[index] ?? ""))].filter((name) => name !== "");
}

const isWhole = ({ system, point, quantity }: ImportTarget) =>
  system !== "" && point !== "" && quantity !== "";
export const isChosen = ({ system }: ImportTarget) => system !== "";

/** The plan to send, or what is still missing from it. */
export function planOf(draft: ImportDraft, names: readonly string[]): ImportPlan | string {
  const chosen = names
    .map((name) => ({ name, target: targetOf(draft, name) }))
    .filter(({ target }) => isChosen(target));
  const half = chosen.find(({ target }) => !isWhole(target));
  if (draft.timeColumn === "") return "Choose the time column.";
  if (draft.format === "") return "Choose the time format.";
  if (draft.kind === "long" && (draft.nameColumn === "" || draft.valueColumn === ""))
    return "Choose the name column and the value column.";
  if (half) return `Choose a point and a quantity for "${half.name}".`;
  if (chosen.length === 0) return "Choose a system for at least one column.";
  const headingLine = Number(draft.headingLine);
  if (!Number.isInteger(headingLine) || headingLine < 1)
    return "The heading line must be a whole number, 1 or more.";
  return {
    encoding: draft.encoding,
    delimiter: draft.delimiter,
    decimal: draft.decimal,
    headingLine,
    time: {
      columns:
        draft.secondTimeColumn === "" ? [draft.timeColumn] : [draft.timeColumn, draft.secondTimeColumn],
      format: draft.format,
      zone: draft.zone === "" ? null : draft.zone,
      twice: draft.twice,
    },
    missing: draft.missing
      .split("\n")
      .map((text) => text.trim())
      .filter((text) => text !== ""),
    layout:
      draft.kind === "wide"
        ? { kind: "wide", columns: chosen.map(({ name, target }) => ({ column: name, target })) }
        : { kind: "long", name: [draft.nameColumn], value: draft.valueColumn, targets: chosen },
  };
}
