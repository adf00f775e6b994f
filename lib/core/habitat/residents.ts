/** Who lives in a system from when to when: one stay is one animal or group in one system at one life stage. */
import type { Instant } from "../time/instant.ts";
import type { Stage } from "./profile.ts";

/** How a stay ended: the next one of the same animal follows a move or a change of stage. */
export type StayEnd = "moved" | "stage" | "counted" | "left" | "died" | "hatched";

export interface Stay {
  readonly id: string;
  /** The animal or group, the same through every stay of its. */
  readonly animal: string;
  readonly system: string;
  readonly species: string;
  readonly population: string | null;
  readonly name: string | null;
  readonly sex: "female" | "male" | null;
  readonly stage: Stage;
  readonly count: number;
  readonly from: Instant;
  readonly to: Instant | null;
  /** Null while it goes on, or where nobody said how it ended. */
  readonly ended: StayEnd | null;
}
