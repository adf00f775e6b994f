import { route } from "#app/_server/route.ts";
import { exportProfile } from "#services/habitat/read-profiles.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("exportProfile", async ({ deps, params, query }) => {
  const { name, type, text } = await exportProfile(deps.read, params.species ?? "", query);
  return new Response(text, {
    headers: {
      "content-type": type,
      "content-disposition": `attachment; filename="${name}"`,
      "cache-control": "no-store",
    },
  });
});
