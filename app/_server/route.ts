import type * as z from "zod";
import { ENDPOINTS, type Endpoint, type EndpointName } from "#contract/endpoints.ts";
import type { Actor } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { type AppDeps, appDeps } from "./deps.ts";
import { Unauthorised, type Who, whoAsks } from "./guard.ts";
import { problemOf } from "./problem.ts";
import { readJson, readQuery } from "./request-input.ts";

type QueryOf<N extends EndpointName> = (typeof ENDPOINTS)[N] extends { query: infer S extends z.ZodType }
  ? z.output<S>
  : undefined;
type AnswerOf<N extends EndpointName> = (typeof ENDPOINTS)[N]["answer"] extends infer S extends z.ZodType
  ? z.input<S>
  : object;

interface RouteContext<N extends EndpointName> {
  /** `read` shows what the actor may see, and refuses one who may see nothing. */
  readonly deps: AppDeps;
  /** Null at an open endpoint where nobody said who they are. */
  readonly actor: Actor | null;
  readonly session: Who["session"];
  readonly params: Readonly<Record<string, string>>;
  readonly query: QueryOf<N>;
  /** The JSON body of a post, unchecked: the service parses it. */
  readonly body: unknown;
  readonly request: Request;
}
type Handler = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;

async function whoOf(endpoint: Endpoint, request: Request, deps: AppDeps): Promise<Who | null> {
  try {
    return await whoAsks(request.headers, request.method, deps.guard);
  } catch (error) {
    const isRefusal = error instanceof Unauthorised || error instanceof AppError;
    if (endpoint.open && isRefusal) return null;
    throw error;
  }
}

/** The dependencies with a `read` narrowed to the actor when it is first asked for. */
function seenBy(deps: AppDeps, actor: Actor | null): AppDeps {
  if (actor === null) return deps;
  return Object.create(deps, { read: { get: () => deps.scope(actor) } }) as AppDeps;
}

/** Logs of a failure to open anything at all: there are no dependencies to log with. */
const logBare: AppDeps["log"] = ({ message, error, reference }) =>
  console.error(JSON.stringify({ level: "error", message, reference, error: String(error) }));

/**
 * A route handler: who asks, what is asked, the service's answer as JSON (or a Response of its own), errors as problem details. Nothing
 * else happens at this edge.
 */
export function route<N extends EndpointName>(
  name: N,
  answer: (asked: RouteContext<N>) => Promise<AnswerOf<N> | Response>,
): Handler {
  const endpoint: Endpoint = ENDPOINTS[name];
  return async (request, context) => {
    let log = logBare;
    try {
      const deps = await appDeps();
      log = deps.log;
      const who = await whoOf(endpoint, request, deps);
      const actor = who?.actor ?? null;
      const query = (endpoint.query ? readQuery(endpoint.query, request.url) : undefined) as QueryOf<N>;
      const body = endpoint.body ? await readJson(request) : undefined;
      const params = await context.params;
      const said = await answer({
        deps: seenBy(deps, actor),
        actor,
        session: who?.session ?? null,
        params,
        query,
        body,
        request,
      });
      if (said instanceof Response) return said;
      return Response.json(said, { headers: { "cache-control": "no-store" } });
    } catch (error) {
      return problemOf(error, log);
    }
  };
}

/** The actor of an endpoint that is not open; route() has proven there is one. */
export function known(actor: Actor | null): Actor {
  if (actor === null) throw new Error("an open endpoint asked for an actor");
  return actor;
}
