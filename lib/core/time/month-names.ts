/** Months in full, and runs of them. Apart from the short names, which every screen needs. */
const MONTH_NAMES = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** "January" for 1; the year goes round, so 13 is January too. */
export const monthName = (month: number): string => MONTH_NAMES[(month + 11) % 12] ?? "";

/** Months of a year as runs: "October to January", "March and May". Months are 1 to 12 and the year goes round. */
export function monthRuns(months: readonly number[], name: (month: number) => string = monthName): string {
  const wanted = [...new Set(months)].sort((a, b) => a - b);
  if (wanted.length === 12) return "every month";
  const has = (month: number) => wanted.includes(((month + 11) % 12) + 1);
  const starts = wanted.filter((month) => !has(month - 1));
  const runs = starts.map((start) => {
    let end = start;
    while (has(end + 1)) end += 1;
    return end === start ? name(start) : `${name(start)} to ${name(end)}`;
  });
  if (runs.length < 2) return runs[0] ?? "no month";
  return `${runs.slice(0, -1).join(", ")} and ${runs.at(-1)}`;
}
