import type { ZxcvbnFactory, ZxcvbnResult } from "@zxcvbn-ts/core";
import type { Fault } from "#core/faults/fault.ts";
import { lengthFault } from "#core/people/index.ts";

/** What an installation like this one is tried with, and the library's dictionaries lack. Common practice, no source. */
const OWN_WORDS = [
  ...["passphrase", "superuser", "demo", "goodmorning", "homewater", "aquarist", "lifesupport", "pumproom"],
  ...["clownfish", "coralreef", "reeftank"],
];
/** Of a longer password only so much is looked at: it is strong enough, and looking takes longer with every character. */
const MOST_JUDGED = 64;
/** Guessed within 10^6 tries, in the words of the library: "very guessable". */
const VERY_GUESSABLE = 1;
/** Shorter than this, what is left without digits and signs is no word. */
const SHORTEST_WORD = 4;

let opened: Promise<ZxcvbnFactory> | undefined;
/** Opened at the first new password: its dictionaries take memory that a dashboard otherwise does without. */
const library = () => {
  opened ??= (async () => {
    const [{ ZxcvbnFactory }, common, english] = await Promise.all([
      import("@zxcvbn-ts/core"),
      import("@zxcvbn-ts/language-common"),
      import("@zxcvbn-ts/language-en"),
    ]);
    return new ZxcvbnFactory({
      dictionary: { ...common.dictionary, ...english.dictionary, own: OWN_WORDS },
      graphs: common.adjacencyGraphs,
      maxLength: MOST_JUDGED,
    });
  })();
  return opened;
};

/** A short piece said again and again, like abcabcabc, whatever the piece. */
const isRepeat = (text: string): boolean => /^(.{1,4})\1+.{0,3}$/u.test(text.toLowerCase());

/** The password without the digits and signs added after it, and on both sides. */
const bare = (password: string): string[] =>
  [/[^\p{L}]+$/u, /^[^\p{L}]+|[^\p{L}]+$/gu]
    .map((hung) => password.replace(hung, ""))
    .filter((word) => [...word].length >= SHORTEST_WORD);

/** One word of a dictionary, or one run or repeat that is soon guessed, and nothing else. */
const isOneWord = ({ sequence: [only, ...others], score }: ZxcvbnResult): boolean =>
  only !== undefined &&
  others.length === 0 &&
  (only.pattern === "dictionary" || (only.pattern !== "bruteforce" && score <= VERY_GUESSABLE));

const withRemedy = (says: string): Fault => ({ says, remedy: "use several words of your own" });
const REPEAT = withRemedy("is a sequence or a repeat of a few characters");

function faultOf({ sequence }: ZxcvbnResult): Fault {
  if (sequence.some((match) => match.dictionaryName === "userInputs"))
    return withRemedy("is the person's own name");
  if (sequence.some((match) => match.pattern === "dictionary"))
    return withRemedy("is one of the first that attackers try");
  return REPEAT;
}

/**
 * Why a password cannot be used; undefined where it can. Length in characters, 8 to 128; nothing else about its composition is
 * demanded. Refused is what zxcvbn guesses within a million tries (common passwords, words, names, keyboard runs, dates, also with digits
 * for letters), one word with digits or signs added, repeats, and the person's own names.
 * Source: NIST SP 800-63B-4 section 3.1.1.2; OWASP ASVS 5.0.0 6.2.1, 6.2.4, 6.2.5, 6.2.9; Wheeler 2016, USENIX Security (zxcvbn).
 */
export async function passwordFault(
  password: string,
  names: readonly string[] = [],
): Promise<Fault | undefined> {
  const length = lengthFault(password);
  if (length !== undefined) return length;
  const judge = await library();
  const own = names.flatMap((name) => [name, ...name.split(/\s+/)]).filter((name) => name.length >= 3);
  const whole = judge.check(password, own);
  if (whole.score <= VERY_GUESSABLE) return faultOf(whole);
  const word = bare(password.toLowerCase())
    .map((each) => judge.check(each, own))
    .find(isOneWord);
  if (word !== undefined) return faultOf(word);
  return isRepeat(password) ? REPEAT : undefined;
}
