import type { ReadingsAnswer } from "#contract/answers.ts";
import { readingsRequest } from "#contract/api.ts";
import type { Actor } from "../deps.ts";
import { parse } from "../parse.ts";
import { demand } from "../permission.ts";
import type { Acceptor } from "./accept-message.ts";

/** Stores readings sent over the API, all or none, in a durable commit; the right is needed for every system. Throws AppError "forbidden" or "invalid". */
export async function postReadings(acceptor: Acceptor, actor: Actor, body: unknown): Promise<ReadingsAnswer> {
  demand(actor, "send-readings");
  const { readings } = parse(readingsRequest, body);
  const receipt = await acceptor.acceptReadings(readings, { client: actor.name, kind: "token" });
  return {
    outcome: receipt.outcome === "unclaimed" ? "unclaimed" : "accepted",
    stored: receipt.stored,
    duplicates: receipt.duplicates,
    conflicts: receipt.conflicts,
    received: receipt.received,
  };
}
