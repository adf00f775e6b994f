import type { Instant } from "../time/instant.ts";
import type { Grant } from "./roles.ts";

export interface Person {
  readonly id: string;
  /** Small letters; what they sign in with. */
  readonly userName: string;
  /** As it appears in records. */
  readonly name: string;
  /** An address below .invalid where they gave none: the session library requires one. */
  readonly email: string;
  readonly disabled: boolean;
  /** Signed in with a one-time password: nothing else is allowed until it is changed. */
  readonly mustChange: boolean;
  /** When the one-time password stops working. */
  readonly oneTimeUntil: Instant | null;
  readonly created: Instant;
  readonly lastSignIn: Instant | null;
}
export interface PersonWithGrants extends Person {
  readonly grants: readonly Grant[];
  /** Open sessions. */
  readonly sessions: number;
}
/** What is written of a person in one commit; what is left out stays. */
export interface PersonChange {
  readonly person: Person;
  readonly passwordHash?: string;
  /** The whole list. */
  readonly grants?: readonly Grant[];
  /** Ends their sessions; "others": all but the one of this token. */
  readonly endSessions?: "all" | { readonly but: string };
}

/** A credential of a program or a wall display. Only the SHA-256 of the token is kept. */
export interface ApiToken {
  readonly id: string;
  readonly name: string;
  readonly hash: string;
  readonly role: Grant["role"];
  readonly site: string | null;
  readonly system: string | null;
  readonly madeBy: string;
  readonly made: Instant;
  readonly expires: Instant;
  readonly revoked: Instant | null;
}

/** Rows of the session library: the field names are the library's; the store only keeps the rows. */
export type AccountTable = "user" | "session" | "account";
export type AccountValue = string | number | boolean | null;
export type AccountRow = Readonly<Record<string, AccountValue>>;
export interface AccountWhere {
  readonly field: string;
  readonly operator: "eq" | "ne" | "lt" | "lte" | "gt" | "gte" | "in";
  readonly value: AccountValue | readonly (string | number)[];
}
export interface AccountRows {
  insert(table: AccountTable, row: AccountRow): Promise<void>;
  find(
    table: AccountTable,
    where: readonly AccountWhere[],
    page?: { limit?: number; offset?: number; sort?: { field: string; descending: boolean } },
  ): Promise<readonly AccountRow[]>;
  /** How many rows were changed, removed or found. */
  update(table: AccountTable, where: readonly AccountWhere[], change: AccountRow): Promise<number>;
  remove(table: AccountTable, where: readonly AccountWhere[]): Promise<number>;
  count(table: AccountTable, where: readonly AccountWhere[]): Promise<number>;
}
