import type { ReadingsAnswer } from "../core/wire/answers.ts";
import { readingsRequest } from "../core/wire/api.ts";
import type { Acceptor } from "./accept-message.ts";
import type { Actor } from "./deps.ts";
import { AppError } from "./errors.ts";
import { parse } from "./parse.ts";

/** Stores readings sent over the API, all or none, in a durable commit. Throws AppError "forbidden" or "invalid". */
export async function postReadings(acceptor: Acceptor, actor: Actor, body: unknown): Promise<ReadingsAnswer> {
  if (!actor.may.has("record")) throw new AppError("forbidden", `${actor.name} may not send readings.`);
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
