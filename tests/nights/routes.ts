/** The API as its callers see it, in this process: an address finds its route file as in the running dashboard. */
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = fileURLToPath(new URL("../../app/api/v1", import.meta.url));

type Handler = (
  request: Request,
  context: { params: Promise<Record<string, string>> },
) => Promise<Response> | Response;
interface Route {
  readonly segments: readonly string[];
  readonly file: string;
}

const ROUTES: readonly Route[] = readdirSync(ROOT, { recursive: true, encoding: "utf8" })
  .filter((file) => file.endsWith("route.ts"))
  .map((file) => ({ segments: dirname(file).split("/"), file: join(ROOT, file) }));

const isParameter = (segment: string): boolean => segment.startsWith("[");

function paramsOf({ segments }: Route, asked: readonly string[]): Record<string, string> | null {
  if (segments.length !== asked.length) return null;
  const params: Record<string, string> = {};
  for (const [i, segment] of segments.entries()) {
    const given = asked[i] as string;
    if (isParameter(segment)) params[segment.slice(1, -1)] = decodeURIComponent(given);
    else if (segment !== given) return null;
  }
  return params;
}

/** Calls the route of an address below /api/v1. Throws where there is none, or none for the method. */
export async function callRoute(request: Request): Promise<Response> {
  const asked = new URL(request.url).pathname.replace("/api/v1/", "").split("/");
  const found = ROUTES.flatMap((route) => {
    const params = paramsOf(route, asked);
    return params ? [{ route, params, free: Object.keys(params).length }] : [];
  }).sort((a, b) => a.free - b.free)[0];
  if (!found) throw new Error(`no route for ${request.url}`);
  const module = (await import(found.route.file)) as Record<string, Handler | undefined>;
  const handler = module[request.method];
  if (!handler) throw new Error(`${request.url} does not take ${request.method}`);
  return handler(request, { params: Promise.resolve(found.params) });
}
