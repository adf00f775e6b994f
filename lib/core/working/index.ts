export { workingOf } from "./working.ts";
