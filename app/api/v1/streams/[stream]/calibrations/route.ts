import { known, route } from "#app/_server/route.ts";
import { recordCalibration } from "#services/probes/record-calibration.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("recordCalibration", ({ deps, actor, params, body }) =>
  recordCalibration(deps.write, known(actor), Number(params.stream), body),
);
