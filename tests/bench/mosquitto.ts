/** An external broker of this machine for the time of a benchmark: anonymous, on the loopback address alone, without limits on queues. */
import { spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ended, endWithUs } from "./accept-embedded.ts";

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (address === null || typeof address === "string") throw new Error("no free port was given");
  return address.port;
}

const answers = (port: number) =>
  new Promise<boolean>((resolve) => {
    const socket = connect(port, "127.0.0.1", () => {
      socket.destroy();
      resolve(true);
    });
    socket.once("error", () => resolve(false));
  });

export async function startMosquitto(program: string): Promise<{ port: number; stop(): Promise<void> }> {
  const port = await freePort();
  const folder = mkdtempSync(join(tmpdir(), "homewater-bench-broker-"));
  const file = join(folder, "broker.conf");
  writeFileSync(
    file,
    [
      `listener ${port} 127.0.0.1`,
      "allow_anonymous true",
      "persistence false",
      "max_queued_messages 0",
      "max_inflight_messages 0",
      "set_tcp_nodelay true",
      "log_type error",
      "",
    ].join("\n"),
  );
  const broker = endWithUs(spawn(program, ["-c", file], { stdio: ["ignore", "ignore", "inherit"] }));
  const stop = async () => {
    await ended(broker);
    rmSync(folder, { recursive: true, force: true });
  };
  for (let tries = 0; tries < 100; tries += 1) {
    if (await answers(port)) return { port, stop };
    if (broker.exitCode !== null) break;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  await stop();
  throw new Error(`${program} did not start on port ${port}`);
}
