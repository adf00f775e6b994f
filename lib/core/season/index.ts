export { type SeasonProgress as SeasonStanding, seasonStanding } from "./judge-season.ts";
export {
  type MonthlyRange as Room,
  proposeSeason,
  type SeasonProposal,
  type SetPoint,
  setPointFaults,
  USUAL_RATES,
} from "./propose.ts";
