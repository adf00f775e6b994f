import { highText, lowText } from "../units/bound-text.ts";
import type { Crossing } from "./forecast.ts";

const placesOf = (hours: number): number => (Number.isInteger(hours) ? 0 : 1);

/** When `what` ("Temperature 29.0 °C") is reached; null: not known yet. Its interval is rounded outward. */
export function crossingWords(crossing: Crossing | null, what: string): string {
  if (!crossing) return `${what}: time left is not known until there is a week of readings`;
  const { earliest, latest, isStated } = crossing;
  if (earliest === null) return `${what}: not expected within 7 days`;
  const soonest = `${lowText(earliest, placesOf(earliest))} h`;
  const when =
    latest === null
      ? `in ${soonest} at the earliest, perhaps not within 7 days`
      : `between ${soonest} and ${highText(latest, placesOf(latest))} h from now`;
  return `${what}: ${when} (${isStated ? "90 % interval" : "rough"})`;
}
