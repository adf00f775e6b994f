import { spawn } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import mqtt from "mqtt";
import { until } from "../ingest/accept-parts.ts";

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === "string") throw new Error("no free port was given");
  return address.port;
}

export interface ExternalBroker {
  readonly url: string;
  /** Stops it as its service manager would and starts it again on the same port. */
  restart(): Promise<void>;
  close(): Promise<void>;
}

/** Starts that broker on this machine. */
export async function startExternalBroker(
  program: string,
  {
    /** False = as it comes: at most a thousand messages are kept for who is away, and the rest are dropped without a word. */
    roomy = true,
    /** True = sessions and queues outlive a restart. */
    persistent = false,
  } = {},
): Promise<ExternalBroker> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-broker-"));
  const port = await freePort();
  const url = `mqtt://127.0.0.1:${port}`;
  const settings = [
    `listener ${port} 127.0.0.1`,
    "allow_anonymous true",
    ...(roomy ? ["max_inflight_messages 2000", "max_queued_messages 1000000"] : []),
    // Started by root it would become another user, who may not write here.
    ...(persistent
      ? ["persistence true", `persistence_location ${folder}/`, `user ${userInfo().username}`]
      : []),
    "",
  ];
  await writeFile(join(folder, "broker.conf"), settings.join("\n"));
  const run = async () => {
    const child = spawn(program, ["-c", join(folder, "broker.conf")], { stdio: "ignore" });
    const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
    const end = async (signal: NodeJS.Signals) => {
      child.kill(signal);
      await ended;
    };
    try {
      await until(
        () =>
          mqtt.connectAsync(url, { reconnectPeriod: 0 }, false).then(
            (client) => client.endAsync().then(() => true),
            () => false,
          ),
        "the broker answers",
      );
    } catch (error) {
      await end("SIGKILL");
      throw error;
    }
    return end;
  };
  let end = await run();
  return {
    url,
    async restart() {
      await end("SIGTERM");
      end = await run();
    },
    async close() {
      await end("SIGKILL");
      await rm(folder, { recursive: true, force: true });
    },
  };
}
