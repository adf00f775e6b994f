import { known, route } from "#app/_server/route.ts";
import { changeStream } from "#services/set-up/change-stream.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("changeStream", ({ deps, actor, params, body }) =>
  changeStream(deps.write, known(actor), Number(params.stream), body),
);
