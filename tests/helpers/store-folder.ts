import { accessSync, constants, mkdtempSync, readdirSync, rmSync, statfsSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const IN_MEMORY = "/dev/shm";
/** Some containers give it 64 MB only. */
const ROOM_BYTES = 2 * 1024 ** 3;
const NAME = `homewater-tests-${process.getuid?.()}-`;

/**
 * The folder below which tests make their stores. Under vitest it is in memory where this machine has room there: no test cuts the power,
 * so none could see what waiting for a disk is good for, and a killed process loses no more in memory than on a disk.
 */
export function storeFolder(): string {
  return process.env.HOMEWATER_TEST_STORES ?? tmpdir();
}

/** Makes the folder of this run; vitest calls it before all tests, once for each project, and what it returns after them. */
export function setup(): (() => void) | undefined {
  if (process.env.HOMEWATER_TEST_STORES !== undefined) return undefined;
  if (!isUsable(IN_MEMORY)) return undefined;
  for (const left of readdirSync(IN_MEMORY).filter((name) => name.startsWith(NAME))) {
    // Of a run that was killed: memory is given back by nobody else.
    if (!isRunning(Number(left.slice(NAME.length).split("-")[0]))) remove(join(IN_MEMORY, left));
  }
  const { bavail, bsize } = statfsSync(IN_MEMORY);
  if (bavail * bsize < ROOM_BYTES) return undefined;
  const folder = mkdtempSync(join(IN_MEMORY, `${NAME}${process.pid}-`));
  process.env.HOMEWATER_TEST_STORES = folder;
  return () => remove(folder);
}

const remove = (folder: string) => rmSync(folder, { recursive: true, force: true });

function isUsable(folder: string): boolean {
  try {
    accessSync(folder, constants.R_OK | constants.W_OK | constants.X_OK);
    return true;
  } catch {
    // Not on this system, or not for this user.
    return false;
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: it runs, as somebody else.
    return error instanceof Error && "code" in error && error.code === "EPERM";
  }
}
