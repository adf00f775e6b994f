// Places in the project folder that the commands share.
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";

/** The project folder. */
export const ROOT = resolve(dirname(fileURLToPath(import.meta.url)), "../..");
/** Scratch that may be deleted at any time; never committed. */
export const CACHE = join(ROOT, ".cache");

/**
 * Every file below the given folders, sorted, as paths relative to the project folder.
 * @param {string[]} folders relative to the project folder; one that does not exist counts as empty
 * @returns {string[]}
 */
export function filesBelow(folders) {
  /** @type {string[]} */
  const found = [];
  const walk = (/** @type {string} */ folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) walk(path);
      else found.push(relative(ROOT, path));
    }
  };
  const top = new Set(readdirSync(ROOT));
  for (const folder of folders) {
    if (top.has(folder)) walk(join(ROOT, folder));
  }
  return found.sort();
}

/** @param {string[]} files relative to the project folder @returns {string} SHA-256 over names and contents */
export function digest(files) {
  const hash = createHash("sha256");
  for (const file of files) {
    const content = readFileSync(join(ROOT, file));
    hash.update(`${file}\0${content.length}\0`).update(content);
  }
  return hash.digest("hex");
}
