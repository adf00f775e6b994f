import type { Instant } from "../time/instant.ts";

/** Somebody has seen an alarm; the evaluator turns it into a transition. */
export interface Acknowledgement {
  readonly id: string;
  readonly clientId: string;
  readonly alarm: string;
  readonly by: string;
  readonly byId: string;
  readonly note: string | null;
  /** When it was done; sent later where there was no network. */
  readonly at: Instant;
  readonly received: Instant;
}
