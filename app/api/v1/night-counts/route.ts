import { readNightCounts } from "../../../../lib/services/night-counts.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("nightCounts", ({ deps }) => readNightCounts(deps.read));
