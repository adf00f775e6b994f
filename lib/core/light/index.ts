export { type DayLight, dayLightOf, type LightSample } from "./day-light.ts";
export {
  type JudgedDay,
  judgeDay,
  LENGTH_MINUTES,
  type LightFinding,
  lightFindings,
  PHASE_MINUTES,
} from "./judge-light.ts";
export {
  type LightSchedule,
  nativeHours,
  plannedHours,
  plannedMiddle,
} from "./planned-light.ts";
