import { randomInt } from "node:crypto";

/** Without characters that are easily confused when read from a screen or a slip of paper. */
const SIGNS = "abcdefghjkmnpqrstuvwxyz23456789";
const GROUPS = 4;
const LENGTH = 5;

/** A password for one use: 20 characters out of 31, 99 bits, in groups that can be read out. */
export function oneTimePassword(): string {
  const group = () => Array.from({ length: LENGTH }, () => SIGNS[randomInt(SIGNS.length)]).join("");
  return Array.from({ length: GROUPS }, group).join("-");
}
