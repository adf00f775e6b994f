import { describe, expect, test } from "vitest";
import { faultText } from "#core/faults/fault.ts";
import { PASSWORD_LEAST, PASSWORD_MOST } from "#core/people/password.ts";
import { passwordFault } from "#services/people/password-fault.ts";

describe("a password is refused", () => {
  // Lengths: NIST SP 800-63B-4 section 3.1.1.2 (at least 8; 15 where it stands alone, which we advise), ASVS 5.0.0 6.2.1, 6.2.9.
  test.each([
    ["shorter than 8", "slow urc", undefined],
    ["of seven", "urchins", /7 characters: use at least 8/],
    ["longer than 128", "a b".repeat(50), /150 characters: use at most 128/],
    // Common practice, no source: the usual disguises of the usual words.
    ["that everybody tries", "password", /first that attackers try/],
    ["in capitals with a year", "Password2024!", /first that attackers try/],
    ["with digits for letters", "p4ssw0rd", /first that attackers try/],
    ["of this trade", "aquarium123", /first that attackers try/],
    ["from the keyboard", "qwertyuiop", /first that attackers try/],
    ["that runs", "abcdefghij", /sequence or a repeat/],
    ["that runs backwards", "987654321", /first that attackers try|sequence or a repeat/],
    ["of one sign", "zzzzzzzzzzzz", /sequence or a repeat/],
    ["that repeats", "kelpkelpkelp", /sequence or a repeat/],
    ["that is the own name", "Marguerite", /own name/],
    ["that is the own name with a year", "Marguerite2024!", /own name/],
    // One word, whatever is hung on to it.
    ["of one word with a year", "Passphrase2024!", /first that attackers try/],
    ["of one rare word with digits", "urchins48151623", /first that attackers try/],
    ["of this trade in capitals", "CORALREEF!", /first that attackers try/],
    ["of this trade behind digits", "12clownfish", /first that attackers try/],
    ["of this trade with digits for letters", "r33ft4nk99!", /first that attackers try/],
    ["of a keyboard of another country", "Qwertz48151623", /sequence or a repeat|first that attackers try/],
    ["of a word said twice", "Waterwater2024!", /sequence or a repeat|first that attackers try/],
    ["of any piece said again", "x7q!x7q!x7q", /sequence or a repeat/],
  ])("%s", async (_claim, password, says) => {
    const fault = await passwordFault(password, ["marguerite", "Marguerite Ames"]);
    if (says === undefined) expect(fault).toBeUndefined();
    else expect(fault && faultText(fault)).toMatch(says);
  });
});

test("any characters are taken, spaces and every script among them, and nothing is demanded of their kind", async () => {
  for (const password of [
    "three slow urchins",
    "żółw morski 7",
    "水族館の朝ごはん",
    "🐙🐙🦑🐠🐡🦈🐳🐬",
    "correcthorsebatterystaple",
    "kelp-forest-7",
    "48x9215573",
    "xK7#pq9!Lm",
    "xKpq83719264",
  ])
    expect(await passwordFault(password), password).toBeUndefined();
  // Characters are counted, not UTF-16 units: eight animals are eight.
  expect([..."🐙🐙🦑🐠🐡🦈🐳🐬"]).toHaveLength(PASSWORD_LEAST);
  expect(await passwordFault("a quiet word ".repeat(10).slice(0, PASSWORD_MOST))).toBeUndefined();
});
