/** What must hold before anything is made: a start that fails half way must not leave an account whose password nobody saw. */
import { access, constants, stat } from "node:fs/promises";
import { createServer } from "node:net";
import { dirname } from "node:path";
import { embeddedLogin } from "#config/embedded-login.ts";
import { type Settings, SettingsError } from "#config/env.ts";

/** Rejects with a SettingsError that names the setting, what is wrong with it and the remedy. Makes nothing. */
export async function checkStart(settings: Settings): Promise<void> {
  const { mqtt, http } = settings;
  if (mqtt.url === null) embeddedLogin(mqtt);
  await demandFolder("HOMEWATER_DATA", settings.data);
  await demandFolder("HOMEWATER_SECRET_FILE", dirname(settings.secretFile));
  if (settings.backup.minutes > 0) await demandFolder("HOMEWATER_BACKUP_FOLDER", settings.backup.folder);
  if (mqtt.url === null) await demandPort("HOMEWATER_MQTT_PORT", mqtt.host, mqtt.port);
  await demandPort("HOMEWATER_HTTP_PORT", http.host, http.port);
}

/** A folder that is there must be writable; for one that is not, the nearest above it that is. */
async function demandFolder(setting: string, folder: string): Promise<void> {
  const refuse = (says: string) =>
    new SettingsError(setting, { says, remedy: "give this user write access to it, or name another folder" });
  const [found, path] = await nearest(folder);
  if (!found) throw refuse(`needs ${path}, which is not a folder`);
  const isWritable = await access(path, constants.W_OK | constants.X_OK).then(
    () => true,
    () => false,
  );
  if (!isWritable) throw refuse(`needs ${path}, which cannot be written to`);
}

/** The nearest path upwards at which something is, and whether that is a folder. */
async function nearest(path: string): Promise<readonly [isFolder: boolean, path: string]> {
  try {
    return [(await stat(path)).isDirectory(), path];
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if ((code === "ENOENT" || code === "ENOTDIR") && dirname(path) !== path) return nearest(dirname(path));
    throw error;
  }
}

/** Port 0 is any free one. */
function demandPort(setting: string, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", ({ code, message }: NodeJS.ErrnoException) => {
      const says =
        code === "EADDRINUSE" ? `is ${port}, which another program uses` : `is ${port}: ${message}`;
      reject(new SettingsError(setting, { says, remedy: "stop that program, or set another port" }));
    });
    probe.listen(port, host, () => probe.close(() => resolve()));
  });
}
