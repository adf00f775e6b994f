import { route } from "#app/_server/route.ts";
import { readHomeOrNative } from "#services/home-water/read-native-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("nativeWater", ({ deps, query }) =>
  readHomeOrNative({ ...deps.native, store: deps.read.store }, query),
);
