// Child processes of the commands: each in its own process group, so that stopping a command stops everything below it.
import { spawn } from "node:child_process";

/** Time a group gets between the polite signal and the one it cannot refuse. */
const GRACE_MS = 10_000;

/** @typedef {{ code: number, output: string }} Ended */
/** @typedef {{ env?: Record<string, string>, cwd?: string, capture?: boolean, heard?: (output: string) => void }} ChildOptions */

/** @type {Set<import("node:child_process").ChildProcess>} */
const running = new Set();
/** @type {NodeJS.Signals | null} */
let stoppedBy = null;

/** @param {import("node:child_process").ChildProcess} child @param {NodeJS.Signals} signal */
function signalGroup(child, signal) {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, signal);
  } catch (error) {
    // ESRCH: the group has ended by itself between the check and the signal.
    if (!(error instanceof Error && "code" in error && error.code === "ESRCH")) throw error;
  }
}

/** @param {NodeJS.Signals} signal */
export function stopAll(signal) {
  for (const child of running) {
    signalGroup(child, signal);
    setTimeout(() => running.has(child) && signalGroup(child, "SIGKILL"), GRACE_MS).unref();
  }
}

/** Passes SIGINT, SIGTERM and SIGHUP on to every child's group. A second signal kills at once. */
export function stopChildrenOnSignals() {
  for (const signal of /** @type {NodeJS.Signals[]} */ (["SIGINT", "SIGTERM", "SIGHUP"])) {
    process.on(signal, () => {
      stopAll(stoppedBy === null ? signal : "SIGKILL");
      stoppedBy = signal;
    });
  }
  // An error thrown by the command itself must not leave children behind.
  process.on("exit", () => {
    for (const child of running) signalGroup(child, "SIGKILL");
  });
}

/** @returns {NodeJS.Signals | null} the signal that asked this command to stop, if one did */
export function stopRequested() {
  return stoppedBy;
}

/** @type {Record<string, number>} */
const SIGNAL_NUMBERS = { SIGHUP: 1, SIGINT: 2, SIGKILL: 9, SIGTERM: 15 };

/** @param {number} code @returns {boolean} whether a program was asked to stop rather than failing by itself */
export function endedBySignal(code) {
  return code === 128 + 1 || code === 128 + 2 || code === 128 + 9 || code === 128 + 15;
}

/**
 * Starts a program and waits for its end.
 * @param {string} program
 * @param {string[]} args
 * @param {ChildOptions} [options] `capture` collects stdout and stderr instead of showing them; `heard` is told all that came so far,
 *   each time more comes
 * @returns {Promise<Ended>} code as a shell would give it: 128 + signal number when killed by a signal
 */
export function run(program, args, options = {}) {
  const stdio = options.capture ? "pipe" : "inherit";
  const child = spawn(program, args, {
    cwd: options.cwd,
    env: { ...process.env, ...options.env },
    // stdin stays closed: a process group in the background that reads the terminal would be halted by it.
    stdio: ["ignore", stdio, stdio],
    detached: true,
  });
  running.add(child);
  let output = "";
  const collect = (/** @type {Buffer} */ chunk) => {
    output += chunk.toString();
    options.heard?.(output);
  };
  child.stdout?.on("data", collect);
  child.stderr?.on("data", collect);
  return new Promise((resolve, reject) => {
    child.on("error", (error) => {
      running.delete(child);
      reject(error);
    });
    child.on("close", (code, signal) => {
      running.delete(child);
      resolve({ code: code ?? 128 + (SIGNAL_NUMBERS[signal ?? ""] ?? 0), output });
    });
  });
}

/** @param {string[]} args @param {ChildOptions} [options] @returns {Promise<Ended>} */
export function runNode(args, options) {
  return run(process.execPath, args, options);
}

/**
 * npm, the one that runs this script where there is one, so that `npm run` under several npm versions stays with its own.
 * @param {string[]} args
 * @param {ChildOptions} [options]
 * @returns {Promise<Ended>}
 */
export function runNpm(args, options) {
  const script = process.env.npm_execpath;
  if (script?.endsWith("npm-cli.js")) return runNode([script, ...args], options);
  return run("npm", args, options);
}
