export { DAY, HOUR, type Instant, MINUTE, SECOND } from "./instant.ts";
