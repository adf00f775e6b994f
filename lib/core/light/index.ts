export { type DayLight, dayLightOf, type LightSample } from "./day-light.ts";
export { type FollowedLight, followLight, type LightSetting, NO_LIGHT } from "./follow-light.ts";
export {
  type JudgedDay,
  judgeDay,
  LENGTH_MINUTES,
  type LightFinding,
  lightFindings,
  PHASE_MINUTES,
} from "./judge-light.ts";
export { lightStreamOf, streamFor } from "./light-stream.ts";
export {
  type DatedSchedule,
  type LightSchedule,
  nativeHours,
  type PlannedLight,
  plannedHours,
  plannedLight,
  plannedMiddle,
  scheduleAt,
} from "./planned-light.ts";
export { endedBy, isVoid, scheduleWords, withdrawnFrom } from "./schedules.ts";
