import type { ChangeAnswer } from "#contract/set-up-forms.ts";

/** What was changed just now, and the way back: undoing writes what was before as a new version. */
export interface Change {
  readonly says: string;
  readonly answer: ChangeAnswer;
}
