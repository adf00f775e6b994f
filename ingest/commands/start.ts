/** Homewater itself, on a site's own data: accepting, evaluating, dashboard. Run by start.mjs, which installs and builds. */
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { readSettings, type Settings, SettingsError } from "#config/env.ts";
import { firstAdministrator, openDependencies } from "#config/open.ts";
import { DAY } from "#core/time/index.ts";
import { uuidV7 } from "#services/new-id.ts";
import { StoreError } from "#store/port.ts";
import { accepting, dashboard, evaluating } from "../demo/parts.ts";
import { say } from "../demo/say.ts";
import { createSupervisor } from "../demo/supervise.ts";
import { waitForBuild } from "../demo/wait.ts";
import { checkStart } from "../first-start/check-start.ts";

const stop = new AbortController();
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => stop.abort());

/** Last of all, once everything runs, and printed at once: nobody must be locked out by a password that was made and never shown. */
async function welcome(settings: Settings): Promise<void> {
  const { store, clock } = await openDependencies(settings, { migrate: false });
  try {
    const first = await firstAdministrator(settings, { store, clock, newId: uuidV7 });
    if (first)
      say(
        `nobody has an account yet: sign in as ${first.userName} with the one-time password ${first.password} before ${new Date(first.expires).toISOString()}; npm run new-password prints another one`,
      );
  } finally {
    await store.close();
  }
}

async function main(): Promise<void> {
  const settings = readSettings(process.env);
  await checkStart(settings);
  mkdirSync(settings.data, { recursive: true });
  const log = join(settings.data, "homewater.log");
  // Opened once to migrate and to say in one sentence what is wrong before anything starts.
  await (await openDependencies(settings, { migrate: true })).store.close();
  const supervisor = createSupervisor(
    log,
    () => stop.signal.aborted,
    (name, code) => say(`${name} ended unexpectedly (code ${code}); see ${log}`),
  );
  try {
    await supervisor.start(accepting({}));
    await supervisor.start(evaluating({}));
    const build = await waitForBuild(stop.signal);
    if (stop.signal.aborted) return;
    if (build !== "ok") throw new Error(`the dashboard could not be built: ${build}`);
    await supervisor.start(dashboard({}, settings.http.host, settings.http.port));
    say(`open http://${settings.http.host}:${settings.http.port} (log: ${log})`);
    await welcome(settings);
    while (!stop.signal.aborted)
      await pause(DAY, undefined, { signal: stop.signal }).catch((error: unknown) => {
        if (!stop.signal.aborted) throw error;
      });
  } finally {
    await supervisor.stop();
    say("stopped");
  }
}

main().catch((error: unknown) => {
  const expected = error instanceof SettingsError || error instanceof StoreError;
  process.stderr.write(
    `Homewater cannot start. ${expected ? error.message : error instanceof Error ? error.message : String(error)}\n`,
  );
  process.exitCode = 1;
});
