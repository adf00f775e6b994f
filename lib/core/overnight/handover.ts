import type { Instant } from "../time/instant.ts";

/** A signed note between shifts. `copy` is frozen: what was known then, whatever is judged again later. */
export interface NewHandover {
  readonly id: string;
  readonly clientId: string;
  readonly from: Instant;
  readonly to: Instant;
  readonly signed: Instant;
  readonly signedBy: string;
  readonly signedById: string;
  readonly passesTo: string | null;
  readonly unanswered: number;
  readonly note: string;
  /** Canonical JSON. */
  readonly copy: string;
}
export interface Handover extends NewHandover {
  /** SHA-256 of `copy`, made when it was stored. */
  readonly hash: string;
}
