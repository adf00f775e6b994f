/** What a tester said when the form asked about a result: kept with the result, beside the question as it was put. */

/** It is right; not sure, test again; asked and not answered. */
export const ANSWERS = ["right", "again", "unanswered"] as const;
export type Answer = (typeof ANSWERS)[number];

const ANSWER_WORDS: Readonly<Record<Answer, string>> = {
  right: "Asked and confirmed as right",
  again: "Not sure, test again",
  unanswered: "Asked and not answered",
};

/** As one reads it beside the result. */
export const answerWords = (answer: Answer, asked: string | null): string =>
  asked === null ? `${ANSWER_WORDS[answer]}.` : `${ANSWER_WORDS[answer]}. ${asked}`;
