import { recordCalibration } from "../../../../../../lib/services/record-calibration.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("recordCalibration", ({ deps, actor, params, body }) =>
  recordCalibration(deps.write, known(actor), Number(params.stream), body),
);
