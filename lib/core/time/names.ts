/** Short names of months and weekdays, on screens, in sentences and in files. */
export const MONTHS = [
  "Jan",
  "Feb",
  "Mar",
  "Apr",
  "May",
  "Jun",
  "Jul",
  "Aug",
  "Sep",
  "Oct",
  "Nov",
  "Dec",
] as const;
/** From Monday on. */
export const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;

/** "Jan" for 1, where there is little room. */
export const monthShort = (month: number): string => MONTHS[(month + 11) % 12] ?? "";
