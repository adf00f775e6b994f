import type { LogEntryView } from "#contract/log.ts";
import { pointWords } from "../words/point-words.ts";

/** What somebody did, as a mark on a chart. */
export interface LogMark {
  readonly id: string;
  readonly at: number;
  /** Short: "Water change 8 %". */
  readonly label: string;
  /** Whole: with point, text and who. */
  readonly says: string;
  /** Short names of the systems it was done to. */
  readonly systems: readonly string[];
}

/** An entry of the logbook as a mark. */
export function markOf(entry: LogEntryView): LogMark {
  const amount = entry.amount === null ? "" : ` ${entry.amount} ${entry.unit ?? ""}`.trimEnd();
  const where = entry.point === null ? "" : `, ${pointWords(entry.point)}`;
  const text = entry.text === "" ? "" : `: ${entry.text}`;
  const label = `${entry.kindLabel}${amount}`;
  return {
    id: entry.id,
    at: entry.at,
    label,
    says: `${label}${where}${text} (${entry.by})`,
    systems: entry.systems.map(({ system }) => system),
  };
}
