/** What a tester said when the form asked about a result: kept with the result, beside the question as it was put. */

/** It is right; not sure, test again; asked and not answered. */
export const ANSWERS = ["right", "again", "unanswered"] as const;
export type Answer = (typeof ANSWERS)[number];

/** Earlier versions sent these words too: whoever changes them leaves `answerInReason` its own. */
const ANSWER_WORDS: Readonly<Record<Answer, string>> = {
  right: "Asked and confirmed as right",
  again: "Not sure, test again",
  unanswered: "Asked and not answered",
};

/** As one reads it beside the result. */
export const answerWords = (answer: Answer, asked: string | null): string =>
  asked === null ? `${ANSWER_WORDS[answer]}.` : `${ANSWER_WORDS[answer]}. ${asked}`;

/**
 * The answer and its question in a reason, where earlier versions put both: "Not sure, test again. Is it right?". A test that waited unsent on
 * a phone may still bring one. Null where a reason is somebody's own words.
 */
export function answerInReason(
  reason: string,
): { readonly answer: Answer; readonly asked: string | undefined } | null {
  for (const answer of ANSWERS) {
    const words = `${ANSWER_WORDS[answer]}.`;
    if (reason !== words && !reason.startsWith(`${words} `)) continue;
    return { answer, asked: reason.slice(words.length).trim() || undefined };
  }
  return null;
}
