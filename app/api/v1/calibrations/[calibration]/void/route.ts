import { known, route } from "#app/_server/route.ts";
import { voidCalibration } from "#services/probes/record-calibration.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("voidCalibration", ({ deps, actor, params, body }) =>
  voidCalibration(deps.write, known(actor), params.calibration ?? "", body),
);
