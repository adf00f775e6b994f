/** `npm run backup` and `npm run restore`: one backup now, verified and recorded; a backup put in place of a store that is not running. */
import { mkdir, readdir, rm, stat, statfs } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { databaseFile, makeBackup, restoreStore } from "#config/backup.ts";
import { readSettings, type Settings, SettingsError } from "#config/env.ts";
import { openDependencies } from "#config/open.ts";
import { durationText } from "#core/time/duration-text.ts";
import type { Instant } from "#core/time/instant.ts";
import { countText } from "#core/units/figures-text.ts";
import { backupInstant, backupName, keptBackups } from "#core/upkeep/rotation.ts";
import { StoreError } from "#store/port.ts";

export interface BackupEnvironment {
  readonly environment: Readonly<Record<string, string | undefined>>;
  readonly clock: () => Instant;
  /** Name of the person who runs the command, for the audit trail. */
  readonly user: string;
  /** One line each. */
  readonly out: (line: string) => void;
  readonly complain: (line: string) => void;
}

const MEBIBYTE = 1_048_576;
/** Space that is always left free, because readings must still be stored. */
const RESERVE = 256 * MEBIBYTE;
const mebibytes = (bytes: number) => `${countText(Math.ceil(bytes / MEBIBYTE))} MiB`;
const when = (at: Instant) => new Date(at).toISOString().slice(0, 19).replace("T", " ").concat("Z");

async function told(around: BackupEnvironment, body: (settings: Settings) => Promise<void>): Promise<number> {
  try {
    await body(readSettings(around.environment));
    return 0;
  } catch (error) {
    if (!(error instanceof StoreError) && !(error instanceof SettingsError)) throw error;
    around.complain(error.message);
    return 1;
  }
}

/** Makes one backup, verifies it, records it, and removes those that the rotation no longer keeps. Resolves with an exit code. */
export async function runBackup(around: BackupEnvironment): Promise<number> {
  return await told(around, async (settings) => {
    const { folder } = settings.backup;
    const began = around.clock();
    await mkdir(folder, { recursive: true });
    await dropPartial(folder);
    const file = join(folder, backupName(began, databaseFile(settings.databaseUrl) === null ? "dump" : "db"));
    const { store, clock } = await openDependencies(settings, { migrate: false, acknowledges: false });
    try {
      await makeRoom(settings, began);
      const facts = await makeBackup(settings.databaseUrl, file);
      const finished = clock();
      await store.recordBackup({
        file,
        bytes: facts.bytes,
        began,
        finished,
        trouble: null,
        readings: facts.readings,
        upTo: facts.upTo,
      });
      await rotate(settings);
      const newest = facts.upTo === null ? "nothing received yet" : `everything up to ${when(facts.upTo)}`;
      around.out(
        `${file}: ${mebibytes(facts.bytes)}, ${countText(facts.readings)} readings, ${newest}; made and verified in ${durationText(finished - began)}`,
      );
    } catch (error) {
      if (error instanceof StoreError) {
        const run = {
          file,
          bytes: 0,
          began,
          finished: clock(),
          trouble: error.message,
          readings: null,
          upTo: null,
        };
        await store
          .recordBackup(run)
          .catch((unnoted: Error) =>
            around.complain(`the failed backup could not be recorded: ${unnoted.message}`),
          );
      }
      throw error;
    } finally {
      await store.close();
    }
  });
}

/** Puts a backup in place of the store of the settings, which must not be running. Resolves with an exit code. */
export async function runRestore(argv: readonly string[], around: BackupEnvironment): Promise<number> {
  return await told(around, async (settings) => {
    const [given] = argv;
    if (given === undefined || argv.length > 1) {
      const known = await backupsIn(settings.backup.folder);
      throw new StoreError(
        "invalid",
        `Name one backup: npm run restore -- FILE. ${known.length === 0 ? `There are none in ${settings.backup.folder}.` : `The newest is ${join(settings.backup.folder, known[0]?.name ?? "")}.`}`,
      );
    }
    const backup = resolve(given);
    const began = around.clock();
    const file = databaseFile(settings.databaseUrl);
    if (file !== null) await mkdir(dirname(file), { recursive: true });
    const { aside } = await restoreStore(settings.databaseUrl, backup, backupName(began, "db").slice(10, 26));
    const { store, clock } = await openDependencies(settings, { migrate: true });
    try {
      const { journal, counts, schema } = await store.status();
      const now = clock();
      const upTo = journal?.received ?? null;
      const record = { backup: basename(backup), upTo, aside: aside === null ? null : basename(aside) };
      const ended = await store.recordRestore(now, {
        at: now,
        actor: `${around.user} (command line)`,
        actorId: "command",
        verb: "restore",
        subject: "store",
        record,
      });
      around.out(
        `restored ${basename(backup)}: ${countText(counts.readings)} readings, schema ${schema}, in ${durationText(clock() - began)}`,
      );
      if (upTo !== null)
        around.out(
          `It holds everything up to ${when(upTo)}. What came in during the ${durationText(now - upTo)} since is missing: senders that keep their readings may send them again, and files can be imported.`,
        );
      if (aside !== null)
        around.out(`The data that was there is kept as ${aside}; remove it when you no longer need it.`);
      around.out(
        `${ended} ${ended === 1 ? "session was" : "sessions were"} ended: everybody signs in again.`,
      );
    } finally {
      await store.close();
    }
  });
}

async function backupsIn(folder: string): Promise<{ name: string; at: Instant }[]> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [];
    throw error;
  });
  return names
    .flatMap((name) => {
      const at = backupInstant(name);
      return at === null ? [] : [{ name, at }];
    })
    .sort((a, b) => b.at - a.at);
}

/** What a killed backup left behind. */
async function dropPartial(folder: string): Promise<void> {
  for (const name of await readdir(folder)) if (name.endsWith(".partial")) await rm(join(folder, name));
}

async function rotate({ backup: { folder, keep } }: Settings): Promise<void> {
  const found = await backupsIn(folder);
  const kept = keptBackups(
    found.map(({ at }) => at),
    keep,
  );
  for (const { name, at } of found) if (!kept.has(at)) await rm(join(folder, name));
}

/** Old backups are removed for a new one when the disk is short; the newest good one never is. */
async function makeRoom({ databaseUrl, backup: { folder } }: Settings, now: Instant): Promise<void> {
  const file = databaseFile(databaseUrl);
  if (file === null) return;
  const needed = (await stat(file)).size + RESERVE;
  const free = async () => {
    const { bavail, bsize } = await statfs(folder);
    return bavail * bsize;
  };
  const old = (await backupsIn(folder)).filter(({ at }) => at < now).slice(1);
  while ((await free()) < needed) {
    const oldest = old.pop();
    if (oldest === undefined)
      throw new StoreError(
        "full",
        `The disk of ${folder} has ${mebibytes(await free())} free and a backup needs ${mebibytes(needed)}: free space, or name another folder in HOMEWATER_BACKUP_FOLDER.`,
      );
    await rm(join(folder, oldest.name));
  }
}
