import type { Fault } from "../faults/fault.ts";

/** Lengths as NIST SP 800-63B-4 section 3.1.1.2 and OWASP ASVS 5.0.0 6.2.1, 6.2.9 ask for; 15 and more is advised. */
export const PASSWORD_LEAST = 8;
export const PASSWORD_ADVISED = 15;
export const PASSWORD_MOST = 128;

/** Why a password's length will not do; undefined where it will. Counted in characters. Whether it is guessed, the server says. */
export function lengthFault(password: string): Fault | undefined {
  const length = [...password].length;
  const says = `has ${length} characters`;
  if (length < PASSWORD_LEAST)
    return { says, remedy: `use at least ${PASSWORD_LEAST}, preferably ${PASSWORD_ADVISED} or more` };
  return length > PASSWORD_MOST ? { says, remedy: `use at most ${PASSWORD_MOST}` } : undefined;
}
