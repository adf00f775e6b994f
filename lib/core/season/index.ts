export { type SeasonStanding, seasonStanding } from "./judge-season.ts";
export {
  proposeSeason,
  type Room,
  type SeasonProposal,
  type SetPoint,
  setPointFaults,
  USUAL_RATES,
} from "./propose.ts";
