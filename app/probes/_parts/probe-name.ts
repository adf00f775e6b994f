import { pointWords } from "#app/_components/words/point-words.ts";
import type { ProbeRow } from "#contract/probes.ts";

/** A probe as a sentence names it; the display is where one looks first and is not named. */
export const nameOf = (row: Pick<ProbeRow, "systemName" | "label" | "point">): string =>
  `${row.systemName}, ${row.label}${row.point === "display" ? "" : ` at ${pointWords(row.point)}`}`;
