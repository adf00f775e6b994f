/** The water one animal lived in, in sentences that never hide what was not read. */
import { percent } from "../units/share-text.ts";

export interface LifeWords {
  /** "Temperature" */
  readonly label: string;
  /** Held against its own range: what it is called, and the share of the quarter hours compared with it; null where none could be. */
  readonly fits: readonly { readonly basis: "native" | "advice"; readonly share: number | null }[];
  /** Quarter hours with a good reading, and how many it lived through. */
  readonly good: number;
  readonly possible: number;
  /** Where nothing of it was read, with whole days lived there. */
  readonly unread: readonly { readonly systemName: string; readonly days: number }[];
}

/** "Temperature: inside its native range for 87 % of the time that could be compared; readings cover 61 % of its time. No readings in Pool 2 (41 days)." */
export function lifeSentence({ label, fits, good, possible, unread }: LifeWords): string {
  const held = fits.flatMap(({ basis, share }) =>
    share === null
      ? []
      : [
          `inside ${basis === "native" ? "its native range" : "the range advised for it"} for ${percent(share)} of the time that could be compared`,
        ],
  );
  const read =
    possible === 0 ? "no time for readings yet" : `readings cover ${percent(good / possible)} of its time`;
  const missing = unread.map(
    ({ systemName, days }) =>
      `${systemName} (${days < 1 ? "less than a day" : `${days} ${days === 1 ? "day" : "days"}`})`,
  );
  const nothing = missing.length === 0 || good === 0 ? "" : ` No readings in ${missing.join(", ")}.`;
  const none =
    fits.length > 0 ? "no readings could be compared with its range" : "no range of its own to compare with";
  return `${label}: ${[...(held.length > 0 ? held : [none]), read].join("; ")}.${nothing}`;
}
