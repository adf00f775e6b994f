import { readHomeOrNative } from "../../../../lib/services/read-native-water.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("nativeWater", ({ deps, query }) =>
  readHomeOrNative({ ...deps.native, store: deps.read.store }, query),
);
