// A lock between processes: two commands started together must not both rewrite node_modules or .next.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { stopRequested } from "./children.mjs";
import { CommandError, say } from "./say.mjs";

/** @param {number} pid */
function isAlive(pid) {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it lives, under another user.
    return error instanceof Error && "code" in error && error.code === "EPERM";
  }
}

/** @param {string} file @returns {boolean} whether this process now holds it */
function take(file) {
  try {
    writeFileSync(file, String(process.pid), { flag: "wx" });
    return true;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "EEXIST") return false;
    throw error;
  }
}

/** @param {string} file @returns {number | null} the holder's process id, null when the file went away or is empty */
function holder(file) {
  try {
    return Number(readFileSync(file, "utf8")) || null;
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return null;
    throw error;
  }
}

/**
 * Runs `work` while holding the lock file; waits for a living holder, takes over from a dead one.
 * @template T
 * @param {string} file
 * @param {string} what as in "the installation"
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function oneAtATime(file, what, work) {
  mkdirSync(dirname(file), { recursive: true });
  let said = false;
  while (!take(file)) {
    const pid = holder(file);
    if (pid !== null && !isAlive(pid)) {
      rmSync(file, { force: true });
      continue;
    }
    if (!said)
      say(
        `waiting for ${what} of another command${pid === null ? "" : ` (process ${pid})`}, see ${file} ...`,
      );
    said = true;
    if (stopRequested()) throw new CommandError(`stopped while waiting for ${what} of another command`, 130);
    await sleep(250);
  }
  const release = () => rmSync(file, { force: true });
  process.once("exit", release);
  try {
    return await work();
  } finally {
    process.off("exit", release);
    release();
  }
}
