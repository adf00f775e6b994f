import type { Instant } from "../time/instant.ts";
import type { Step, UncertaintyPart } from "./explanation.ts";

/** What a derived number is called and how it is written. */
interface Named {
  quantity: string;
  label: string;
  /** UCUM code. */
  unit: string;
  unitLabel: string;
  decimals: number;
}

/** A result that is only a bound: the true value lies below or above it. */
type Mark = "below" | "above" | null;

/** One input of a derived number, as it was found. */
export interface WorkingInput extends Named {
  /** Null where there was none young enough. */
  value: number | null;
  point: string | null;
  /** `system`: a fact of the system, such as fresh water or its height above the sea. */
  origin: "probe" | "bench" | "derived" | "equipment" | "system";
  /** Its own time. */
  at: Instant | null;
  /** Milliseconds before the moment computed for. */
  age: number | null;
  flag: number | null;
  mark: Mark;
  note: string | null;
}

/** How one derived number was computed; the answer of the API is made of it, and pages word it. */
export interface Working extends Named {
  system: string;
  point: string;
  /** The moment computed for: its trigger's own time. */
  at: Instant | null;
  value: number | null;
  /** Interval of about 95 %. */
  low: number | null;
  high: number | null;
  mark: Mark;
  status: "ok" | "extrapolated" | "not known";
  note: string | null;
  /** Kept by the evaluator; otherwise computed when asked. */
  isStored: boolean;
  equation: string;
  expression: string[];
  range: string;
  source: string;
  inputs: WorkingInput[];
  steps: Step[];
  uncertainty: UncertaintyPart[];
  /** All of it as plain text, for print. */
  text: string;
}
