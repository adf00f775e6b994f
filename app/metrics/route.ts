import { AppError } from "#services/errors.ts";
import { maySeeUpkeep, readUpkeep } from "#services/upkeep/read-health.ts";
import { appDeps } from "../_server/deps.ts";
import { isLoopback, whoAsks } from "../_server/guard.ts";
import { problemOf } from "../_server/problem.ts";
import { METRICS_TYPE, metricsText } from "./metrics-text.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

/** Metrics for a collector: with a token that may see health, or from this machine itself. */
export async function GET(request: Request): Promise<Response> {
  const deps = await appDeps();
  try {
    const { headers } = request;
    const { host, publicUrl } = deps.guard.settings;
    // Behind a proxy every request comes from this machine: there a token is asked for.
    const isProxied = publicUrl !== null || headers.has("x-forwarded-for") || headers.has("forwarded");
    const isHere = !isProxied && isLoopback(host) && isLoopback(headers.get("host"));
    if (!isHere || headers.has("authorization")) {
      const { actor } = await whoAsks(headers, "GET", deps.guard);
      if (!maySeeUpkeep(actor))
        throw new AppError(
          "forbidden",
          `${actor.name} may not see how Homewater itself is: a technician's token may.`,
        );
    }
    const text = await metricsText(await readUpkeep(deps.read, deps.version));
    return new Response(text, {
      headers: { "content-type": METRICS_TYPE, "cache-control": "no-store" },
    });
  } catch (error) {
    return problemOf(error, deps.log);
  }
}
