import { randomBytes } from "node:crypto";
import { chmod, mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { SettingsError } from "./env.ts";

const LEAST = 32;
const SETTING = "HOMEWATER_SECRET_FILE";

/**
 * The secret that signs session cookies, made once with 256 random bits where its file is missing and readable by this user alone. Removing
 * the file ends every session. Throws SettingsError where the file holds too little.
 */
export async function readSecret(file: string): Promise<string> {
  await mkdir(dirname(file), { recursive: true });
  try {
    // Fails where the file exists: two processes that start together end with one secret.
    await writeFile(file, `${randomBytes(32).toString("base64url")}\n`, { flag: "wx", mode: 0o600 });
    await chmod(file, 0o600);
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "EEXIST")) throw error;
  }
  const secret = (await readFile(file, "utf8")).trim();
  if (secret.length < LEAST)
    throw new SettingsError(SETTING, {
      says: `is ${file}, which holds ${secret.length} characters`,
      remedy: `put at least ${LEAST} random ones there, or remove it`,
    });
  return secret;
}
