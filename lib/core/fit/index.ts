export {
  type Fit,
  type FitOf,
  fitOf,
  largestGaps,
  type MonthEdges,
  type MonthHalf,
  monthHalves,
  openStretch,
  quartersIn,
  type SiteMonth,
  siteMonths,
  stretchesOf,
  WELL,
} from "./fit.ts";
export { addTallies, type Stretch, type Tally, tallyOf } from "./tally.ts";
