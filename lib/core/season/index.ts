export { type SeasonProgress, seasonStanding } from "./judge-season.ts";
export {
  type MonthlyRange,
  proposeSeason,
  type SeasonProposal,
  type SetPoint,
  setPointFaults,
  USUAL_RATES,
} from "./propose.ts";
