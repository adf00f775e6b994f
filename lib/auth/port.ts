/** What the rest of Homewater asks of signing in. Who may do what is not decided here: lib/core/people does, from a person's grants. */
import type { PersonWithGrants } from "#core/people/person.ts";
import type { Instant } from "#core/time/instant.ts";

export interface OpenSession {
  readonly token: string;
  readonly person: PersonWithGrants;
  readonly begun: Instant;
}
export type SignInOutcome =
  | { readonly ok: true; readonly person: PersonWithGrants; readonly cookies: readonly string[] }
  | { readonly ok: false; readonly why: "wrong" }
  | { readonly ok: false; readonly why: "too many"; readonly retryAfterSeconds: number };

/** How long and how often: written down here, stated in the documentation, enforced by tests. */
export interface AuthLimits {
  /** A session ends when it was not used for so long, and at the latest so long after it began. */
  readonly idleMs: number;
  readonly absoluteMs: number;
  /** Failed attempts within the window, for one account and from one address. */
  readonly attemptsAnAccount: number;
  readonly attemptsAnAddress: number;
  readonly windowMs: number;
  /** A one-time password works for so long, and so long after its first use. */
  readonly oneTimeMs: number;
  readonly oneTimeAfterUseMs: number;
}

export interface Auth {
  readonly limits: AuthLimits;
  /** By user name or e-mail address. Every failure takes as long and says as much as any other. */
  signIn(sent: {
    readonly name: string;
    readonly password: string;
    readonly address: string | null;
    readonly userAgent: string | null;
  }): Promise<SignInOutcome>;
  /** Ends the session of these headers' cookie on the server; gives the cookies that take it from the browser too. */
  signOut(headers: Headers): Promise<readonly string[]>;
  /** The session of these headers' cookie, null where there is none that holds. */
  sessionOf(headers: Headers): Promise<OpenSession | null>;
  /** For storing; scrypt with a salt of its own. */
  hash(password: string): Promise<string>;
  /** Whether this is the person's password now. */
  isPassword(person: string, password: string): Promise<boolean>;
}
