import { SECOND } from "../core/time/instant.ts";
import { type ChangeAnswer, changeStreamRequest } from "../core/wire/set-up-forms.ts";
import type { Stream } from "../store/port.ts";
import { answerOf } from "./change-band.ts";
import type { Actor, WriteDeps } from "./deps.ts";
import { invalid, notFound } from "./errors.ts";
import { parse } from "./parse.ts";
import { audited, demandAt, demandSomewhere } from "./permission.ts";
import { lookUp } from "./set-up.ts";

/** Changes what is expected of a stream: how often it speaks, whether its system is known without it. Throws "forbidden", "not_found", "invalid". */
export async function changeStream(
  deps: WriteDeps,
  actor: Actor,
  id: number,
  body: unknown,
): Promise<ChangeAnswer> {
  demandSomewhere(actor, "change-stream");
  const { reason, intervalSeconds, critical } = parse(changeStreamRequest, body);
  if (intervalSeconds === undefined && critical === undefined)
    throw invalid([
      { field: "", value: null, says: "nothing is changed", remedy: "give the field to change" },
    ]);
  const { before, at } = await lookUp(deps.setUp, (index) => {
    const stream = index.streams.get(id);
    const system = stream && index.byId.get(stream.system);
    if (!stream || !system)
      throw notFound("stream", String(id), "GET /api/v1/systems/{system}/set-up lists their numbers.");
    return { before: stream, at: system };
  });
  demandAt(actor, "change-stream", at);
  const now = deps.clock();
  const after: Stream = {
    ...before,
    ...(intervalSeconds === undefined
      ? {}
      : { interval: intervalSeconds === null ? null : intervalSeconds * SECOND }),
    ...(critical === undefined ? {} : { critical }),
  };
  const subject = `stream:${id}`;
  const written = await deps.store.writeSetUp(
    { streams: [after] },
    [{ system: at.system.id, from: now }],
    now,
    audited(actor, now, "change-stream", subject, { before, after, reason }),
  );
  return answerOf(written, subject, true, now);
}
