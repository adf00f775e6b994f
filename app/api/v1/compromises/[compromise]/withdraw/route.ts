import { withdrawCompromise } from "../../../../../../lib/services/withdraw-compromise.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawCompromise", ({ deps, actor, params, body }) =>
  withdrawCompromise(deps.write, known(actor), params.compromise ?? "", body),
);
