export { type SeasonProgress as SeasonStanding, seasonStanding } from "./judge-season.ts";
export {
  proposeSeason,
  type MonthlyRange as Room,
  type SeasonProposal,
  type SetPoint,
  setPointFaults,
  USUAL_RATES,
} from "./propose.ts";
