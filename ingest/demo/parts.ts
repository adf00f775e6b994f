/** The processes of a running Homewater and how each is started. */
import { createRequire } from "node:module";
import { join } from "node:path";
import type { Part } from "./supervise.ts";

const ROOT = join(import.meta.dirname, "../..");
const typescript = (file: string, ...args: string[]) => ["--import", "tsx", join(ROOT, file), ...args];

type Environment = Readonly<Record<string, string>>;

export const accepting = (env: Environment): Part => ({
  name: "accepting",
  // Messages wait in memory for their commit: with room for the young ones they are not copied again and again meanwhile.
  args: ["--max-semi-space-size=16", ...typescript("ingest/accept/main.ts")],
  env,
  saysReady: true,
});

export const evaluating = (env: Environment): Part => ({
  name: "evaluating",
  // What it makes is used at once or kept for hours: little room for the young is enough.
  args: ["--max-semi-space-size=8", ...typescript("ingest/evaluate/main.ts")],
  env,
  saysReady: true,
});

export const simulating = (
  env: Environment,
  folder: string,
  file: string,
  anchor: number,
  from: number,
): Part => ({
  name: "the simulated gateway",
  args: typescript("ingest/demo/simulator.ts", folder, file, String(anchor), String(from)),
  env,
  saysReady: false,
});

export const dashboard = (env: Environment, host: string, port: number): Part => ({
  name: "the dashboard",
  args: [
    createRequire(import.meta.url).resolve("next/dist/bin/next"),
    "start",
    ROOT,
    "-p",
    String(port),
    "-H",
    host,
  ],
  env: { ...env, NODE_ENV: "production", NEXT_TELEMETRY_DISABLED: "1" },
  saysReady: false,
});
