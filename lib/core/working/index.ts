export { figures } from "./explanation.ts";
export { type WorkingOf, workingOf } from "./working.ts";
export { inputWords, partWords, resultWords } from "./working-text.ts";
