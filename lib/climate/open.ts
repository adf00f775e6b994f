import { readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { gunzip } from "node:zlib";
import { type Climatology, climatologyOf } from "#core/native-water/index.ts";

const FILE = join(dirname(fileURLToPath(import.meta.url)), "surface-climatology.bin.gz");

/** Reads the table; rejects where the file is gone or is not such a table, naming it. */
async function readClimatology(): Promise<Climatology> {
  try {
    return climatologyOf(await promisify(gunzip)(await readFile(FILE)));
  } catch (error) {
    throw new Error(`The native water table ${FILE} cannot be read: restore it from the repository.`, {
      cause: error,
    });
  }
}

/** A reader that reads the file at the first request and never again; after a failure the next request tries again. */
export function openClimatology(): () => Promise<Climatology> {
  let kept: Promise<Climatology> | null = null;
  return () => {
    kept ??= readClimatology().catch((error: unknown) => {
      kept = null;
      throw error;
    });
    return kept;
  };
}
