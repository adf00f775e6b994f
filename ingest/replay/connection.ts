import { readFile } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import type { Settings } from "#config/env.ts";
import { type HealthView, healthView } from "#contract/answers.ts";
import type { ReplayArguments } from "./arguments.ts";
import { ReplayError } from "./replay-error.ts";

/** How the running demo is reached; it writes this file into the data folder while it runs. */
const demoFile = z.object({
  mqttUrl: z.string(),
  user: z.string(),
  password: z.string(),
  httpUrl: z.string(),
  token: z.string(),
});

export interface Connection {
  readonly url: string;
  readonly user: string | null;
  readonly password: string | null;
  /** The dashboard, for its counters, and the token it shows them for. */
  readonly http: string;
  readonly token: string | null;
}

/** Where to send: what the command line says, else the settings, else the running demo, else this machine's usual ports. */
export async function connectionOf(args: ReplayArguments, settings: Settings): Promise<Connection> {
  const { mqtt, http } = settings;
  const demo = await readDemo(join(settings.data, "demo.json"));
  // A broker named by hand is not given the demo's password.
  const named = args.url ?? mqtt.url;
  const isElsewhere = named !== null && named !== demo?.mqttUrl;
  const dashboard = args.http ?? demo?.httpUrl ?? http.publicUrl ?? `http://127.0.0.1:${http.port}`;
  return {
    url: named ?? demo?.mqttUrl ?? `mqtt://127.0.0.1:${mqtt.port}`,
    user: args.user ?? mqtt.user ?? (isElsewhere ? null : (demo?.user ?? null)),
    password: args.password ?? mqtt.password ?? (isElsewhere ? null : (demo?.password ?? null)),
    http: dashboard,
    token: settings.apiToken ?? (dashboard === demo?.httpUrl ? demo.token : null),
  };
}

async function readDemo(path: string): Promise<z.infer<typeof demoFile> | null> {
  let text: string;
  try {
    text = await readFile(path, "utf8");
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return null;
    throw new ReplayError(
      `${path} cannot be read: ${error instanceof Error ? error.message : String(error)}.`,
      { cause: error },
    );
  }
  try {
    return demoFile.parse(JSON.parse(text));
  } catch (error) {
    throw new ReplayError(
      `${path} is not a file written by the demo: start the demo again, or remove the file.`,
      {
        cause: error,
      },
    );
  }
}

export type ServerCounts = NonNullable<HealthView["detail"]>["counts"];

/** The store's counters as the dashboard tells them, or why they are not known. */
export async function serverCounts({
  http,
  token,
}: Pick<Connection, "http" | "token">): Promise<ServerCounts | string> {
  try {
    const answer = await fetch(new URL("/api/v1/health", http), {
      signal: AbortSignal.timeout(5_000),
      ...(token === null ? {} : { headers: { authorization: `Bearer ${token}` } }),
    });
    const read = healthView.safeParse(await answer.json());
    if (!read.success)
      return `${http} answers ${answer.status}, but not as a dashboard of this version would`;
    return read.data.detail?.counts ?? `${http} shows its counters only if HOMEWATER_API_TOKEN is set here`;
  } catch (error) {
    // The client says only "fetch failed"; what failed is its cause.
    const why = error instanceof Error && error.cause instanceof Error ? error.cause : error;
    return `no dashboard answers at ${http} (${why instanceof Error ? why.message : String(why)})`;
  }
}
