export { DAY, HOUR, type Instant, MINUTE, SECOND } from "./instant.ts";
export {
  lastLocalHour,
  type MonthBracket,
  monthBracket,
  monthBracketWalker,
  siteDay,
  siteDayWalker,
} from "./site-time.ts";
