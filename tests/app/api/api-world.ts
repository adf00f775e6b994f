import { vi } from "vitest";
import { oneTimePassword } from "#auth/one-time-password.ts";
import { openAuth } from "#auth/open-auth.ts";
import { uuidV7 } from "#services/new-id.ts";
import type { System, TargetBand } from "#store/port.ts";
import type { OpenStore } from "#tests/helpers/each-store.ts";
import { band, openWorld, system, type World } from "#tests/services/world.ts";

// Next itself answers this mark; under plain Node there is nothing behind it.
vi.mock("server-only", () => ({}));
const { buildAppDeps, setAppDeps } = await import("#app/_server/deps.ts");

const TOKEN = "a-token-for-these-tests";
const SECRET = "a secret for these tests, long enough";
type Method = (request: Request, context: { params: Promise<Record<string, string>> }) => Promise<Response>;
type Answer = { readonly status: number; readonly headers: Headers; readonly body: unknown };

export interface Api extends World {
  ask(
    method: Method,
    path: string,
    options?: { params?: Record<string, string>; body?: unknown; headers?: Record<string, string> },
  ): Promise<Answer>;
}

/** The route handlers over a store of their own, asked with the token unless other headers are given. */
export async function openApi(
  systems: readonly System[] = [system("reef"), system("kelp")],
  bands: readonly TargetBand[] = systems.map(({ code }) => band(code)),
  open?: OpenStore,
): Promise<Api> {
  const world = await openWorld(systems, bands, open);
  const { dispose } = world;
  const clock = () => world.now;
  const auth = openAuth({ store: world.store, clock, secret: SECRET, secure: false, newId: uuidV7 });
  const settings = { apiToken: TOKEN, host: "127.0.0.1", publicUrl: null };
  setAppDeps(buildAppDeps(world.store, clock, settings, { auth, oneTimePassword }));
  return Object.assign(world, {
    async ask(method: Method, path: string, { params = {}, body, headers }: Parameters<Api["ask"]>[2] = {}) {
      const request = new Request(`http://localhost:3000/api/v1${path}`, {
        method: body === undefined ? "GET" : "POST",
        headers: {
          host: "localhost:3000",
          authorization: `Bearer ${TOKEN}`,
          ...(body === undefined ? {} : { "content-type": "application/json" }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: typeof body === "string" ? body : JSON.stringify(body) }),
      });
      const response = await method(request, { params: Promise.resolve(params) });
      return { status: response.status, headers: response.headers, body: (await response.json()) as unknown };
    },
    async dispose() {
      setAppDeps(undefined);
      await dispose();
    },
  });
}
