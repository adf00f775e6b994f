import { FIRST_GUESSES } from "./first-guesses.ts";

/** Lengths as NIST SP 800-63B-4 section 3.1.1.2 and OWASP ASVS 5.0.0 6.2.1, 6.2.9 ask for; 15 and more is advised. */
export const PASSWORD_LEAST = 8;
export const PASSWORD_ADVISED = 15;
export const PASSWORD_MOST = 128;

const LOOKS_LIKE: Readonly<Record<string, string>> = {
  "0": "o",
  "1": "i",
  "3": "e",
  "4": "a",
  "5": "s",
  "7": "t",
  "@": "a",
  $: "s",
  "!": "i",
};

/** Words behind a disguise: lower case, digits read as letters, what is hung on before and after taken off. */
function* bare(text: string): Generator<string> {
  const small = text.toLowerCase();
  yield small;
  const trimmed = small.replace(/^[^a-z]+|[^a-z]+$/g, "");
  yield trimmed;
  const read = (from: string) => [...from].map((sign) => LOOKS_LIKE[sign] ?? sign).join("");
  yield read(small);
  yield read(small.replace(/[\d!?.$@#*]+$/, "")).replace(/[^a-z]/g, "");
}

const isRun = (text: string): boolean => {
  const steps = new Set([...text].slice(1).map((sign, i) => sign.charCodeAt(0) - text.charCodeAt(i)));
  return steps.size <= 1 && [0, 1, -1].includes([...steps][0] ?? 0);
};

/** A short piece said again and again, like abcabcabc. */
const isRepeat = (text: string): boolean => /^(.{1,4})\1+.{0,3}$/u.test(text);

/**
 * Why a password cannot be used, in words; undefined where it can. Length in characters, 8 to 128; nothing else about its make-up is
 * demanded. Refused are words of a small list of our own (disguised by digits, capitals or endings too), runs, repeats, and the person's
 * own names. The list is no list of breached passwords: such lists are not part of this program.
 * Source: NIST SP 800-63B-4 section 3.1.1.2; OWASP ASVS 5.0.0 6.2.1, 6.2.4, 6.2.5, 6.2.9.
 */
export function passwordFault(password: string, names: readonly string[] = []): string | undefined {
  const length = [...password].length;
  if (length < PASSWORD_LEAST)
    return `has ${length} characters: use at least ${PASSWORD_LEAST}, preferably ${PASSWORD_ADVISED} or more`;
  if (length > PASSWORD_MOST) return `has ${length} characters: use at most ${PASSWORD_MOST}`;
  const forms = [...new Set(bare(password))];
  if (forms.some((form) => FIRST_GUESSES.has(form)))
    return "is one of the first that attackers try: use several words of your own";
  if (isRun(password) || isRepeat(password.toLowerCase()))
    return "is a sequence or a repeat of a few characters: use several words of your own";
  const own = names.filter((name) => name.length >= 3).map((name) => name.toLowerCase());
  if (own.some((name) => forms.includes(name))) return "is the person's own name: use several words";
  return undefined;
}
