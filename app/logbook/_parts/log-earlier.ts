import { pointWords } from "#app/_components/words/point-words.ts";
import type { EarlierVersion, LogEntryView } from "#contract/log.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

type Version = Pick<
  LogEntryView,
  "systems" | "point" | "quantityLabel" | "at" | "until" | "amount" | "unit" | "item" | "animals" | "text"
>;

export const amountWords = ({ amount, unit }: Pick<Version, "amount" | "unit">): string =>
  amount === null ? "" : `${amount}${unit === null ? "" : ` ${unit}`}`;
export const aboutWords = ({ quantityLabel, point }: Pick<Version, "quantityLabel" | "point">): string =>
  [quantityLabel ?? "", point === null ? "" : pointWords(point)].filter((text) => text !== "").join(", ");

/** What an earlier version said differently from the one that replaced it, part by part; what is the same in both is left out. */
export function struckWords(row: EarlierVersion, after: Version, clock: ZoneClock): string[] {
  const parts = (version: Version) => [
    { is: "no system", words: version.systems.map(({ name }) => name).join(", ") },
    { is: "whole system", words: aboutWords(version) },
    { is: "", words: `started ${clock.dayClock(version.at)}` },
    { is: "no end", words: version.until === null ? "" : `ended ${clock.dayClock(version.until)}` },
    { is: "no amount", words: amountWords(version) },
    { is: "no batch, food or part", words: version.item ?? "" },
    { is: "no animals named", words: version.animals.join(", ") },
    { is: "no note", words: version.text },
  ];
  const now = parts(after);
  return parts(row).flatMap(({ is, words }, i) =>
    words === now[i]?.words ? [] : [words === "" ? is : words],
  );
}

/** Each earlier version with the one that came after it, newest first. */
export const withAfter = (entry: LogEntryView): { row: EarlierVersion; after: Version }[] =>
  entry.earlier.map((row, i) => ({ row, after: i === 0 ? entry : (entry.earlier[i - 1] ?? entry) }));
