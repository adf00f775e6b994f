import type { BenchAnswer } from "#contract/answers.ts";
import { correctRequest, type VoidAnswer, voidRequest } from "#contract/bench-forms.ts";
import { type StoredBenchTest, StoreError } from "#store/port.ts";
import type { Actor, WriteDeps } from "../deps.ts";
import { AppError, notFound } from "../errors.ts";
import { parse } from "../parse.ts";
import { audited, demandAt, demandSomewhere } from "../permission.ts";
import { lookUp } from "../set-up.ts";
import { placeOf, repeatOf } from "./bench-answer.ts";
import { storeTest } from "./record-bench.ts";

type Result = StoredBenchTest["results"][number];

/** A stored result with its test and place, where the actor may record. Throws AppError "not_found" or "forbidden". */
async function found(deps: WriteDeps, actor: Actor, id: string) {
  const test = await deps.store.readBenchTest({ result: id });
  const result = test?.results.find((row) => row.id === id);
  if (!test || !result)
    throw notFound("bench result", id, "GET /api/v1/systems/{system}/bench lists the latest ones.");
  const place = await lookUp(deps.setUp, (index) => placeOf(index.byId.get(test.system), test.point));
  demandAt(actor, "record-bench", place.at);
  return { test, result, place };
}

function refuseOld(result: Result): void {
  if (result.corrected !== null)
    throw new AppError(
      "conflict",
      `This result has already been corrected: its correction is ${result.corrected}.`,
    );
  if (result.voided !== null) throw new AppError("conflict", "This result has already been voided.");
}

/** Marks a result as entered by mistake, once a client id. The row stays; nothing counts it from now on. */
export async function voidBench(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<VoidAnswer> {
  demandSomewhere(actor, "record-bench");
  const request = parse(voidRequest, body);
  const { result } = await found(deps, actor, id);
  const now = deps.clock();
  const added = {
    id: deps.newId(now),
    clientId: request.clientId,
    result: id,
    by: actor.name,
    byId: actor.id,
    reason: request.reason,
    at: now,
  };
  // A repeat finds the result voided; the store tells it from somebody else's void by its client id.
  if (result.corrected !== null) refuseOld(result);
  const { stored, repeated } = await deps.store
    .voidBench(added, now, audited(actor, now, "void-bench", `bench-result:${id}`, added))
    .catch((cause: unknown) => {
      if (cause instanceof StoreError && cause.code === "invalid")
        throw new AppError("conflict", "This result has already been voided.", { cause });
      throw cause;
    });
  return {
    id: stored.id,
    result: stored.result,
    by: stored.by,
    reason: stored.reason,
    repeated,
    received: stored.received,
  };
}

/** Stores a new result that stands for an old one, with the reason, at the old one's moment and place. */
export async function correctBench(
  deps: WriteDeps,
  actor: Actor,
  id: string,
  body: unknown,
): Promise<BenchAnswer> {
  demandSomewhere(actor, "record-bench");
  const request = parse(correctRequest, body);
  const repeat = await repeatOf(deps, actor, request.clientId);
  if (repeat) return repeat;
  const { test, result, place } = await found(deps, actor, id);
  refuseOld(result);
  const { clientId, value, unit, reason, qualifier, method = result.method ?? undefined } = request;
  const sent = {
    quantity: result.quantity,
    value,
    unit,
    reason,
    supersedes: id,
    replicate: result.replicate,
    ...(qualifier === undefined ? {} : { qualifier }),
    ...(method === undefined ? {} : { method }),
  };
  return storeTest(
    deps,
    actor,
    place,
    { clientId, sampledAt: test.sampledAt, results: [sent] },
    "correct-bench",
  );
}
