import { changeStream } from "../../../../../lib/services/change-stream.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("changeStream", ({ deps, actor, params, body }) =>
  changeStream(deps.write, known(actor), Number(params.stream), body),
);
