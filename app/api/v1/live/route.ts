import { MOST_LISTENERS } from "#app/_server/live.ts";
import { reachOf } from "#app/_server/live-reach.ts";
import { liveStream } from "#app/_server/live-stream.ts";
import { known, route } from "#app/_server/route.ts";
import { AppError } from "#services/errors.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

/** A browser that reconnects names its last event in a header; a page that opens again may do so in the query. */
function lastSeen(request: Request, seq: number | undefined): number | null {
  const sent = request.headers.get("last-event-id");
  if (sent !== null && /^\d{1,15}$/.test(sent)) return Number(sent);
  return seq ?? null;
}

export const GET = route("live", async ({ deps, actor, query, request }) => {
  if (deps.live.listeners() >= MOST_LISTENERS)
    throw new AppError(
      "unavailable",
      `${MOST_LISTENERS} listeners are connected already; close pages that are not needed.`,
    );
  const body = await liveStream(
    deps.live,
    lastSeen(request, query.seq),
    request.signal,
    await reachOf(deps, known(actor), request.headers),
  );
  return new Response(body, {
    headers: {
      "content-type": "text/event-stream; charset=utf-8",
      "cache-control": "no-cache, no-transform",
      "x-accel-buffering": "no",
    },
  });
});
