import { readdir, readFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { type ProfileFile, profileFile } from "#contract/habitat.ts";

const FOLDER = join(dirname(fileURLToPath(import.meta.url)), "../../fixtures/profiles");

async function readLibrary(): Promise<ProfileFile[]> {
  const names = (await readdir(FOLDER)).filter((name) => name.endsWith(".json")).sort();
  return Promise.all(
    names.map(async (name) => {
      const read = profileFile.safeParse(JSON.parse(await readFile(join(FOLDER, name), "utf8")));
      if (read.success) return read.data;
      throw new Error(`The library profile ${name} is damaged: restore it from the repository.`, {
        cause: read.error,
      });
    }),
  );
}

/** Reads the library of profiles at the first request and never again; after a failure the next request tries again. */
export function openLibrary(): () => Promise<readonly ProfileFile[]> {
  let kept: Promise<readonly ProfileFile[]> | null = null;
  return () => {
    kept ??= readLibrary().catch((error: unknown) => {
      kept = null;
      throw error;
    });
    return kept;
  };
}
