export { figures } from "./explanation.ts";
export { type WorkingOf, workingOf } from "./working.ts";
