import { voidCalibration } from "../../../../../../lib/services/record-calibration.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("voidCalibration", ({ deps, actor, params, body }) =>
  voidCalibration(deps.write, known(actor), params.calibration ?? "", body),
);
