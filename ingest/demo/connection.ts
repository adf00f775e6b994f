/** Where the running demo can be reached and with what: one file in the data folder, for its own parts and for `npm run replay`. */
import { randomBytes } from "node:crypto";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import * as z from "zod";
import type { DemoPasswords } from "./people.ts";

const schema = z.object({
  mqttUrl: z.string(),
  user: z.string(),
  password: z.string(),
  httpUrl: z.string(),
  token: z.string(),
  /** Password of each account, by user name; accounts are named after their role. */
  people: z.record(z.string(), z.string()),
  /** Local midnight of the scenario's first day, UTC milliseconds. */
  anchor: z.number().int(),
  /** The days are in; the year behind them is in. */
  daysLoadedTo: z.number().int().nullable(),
  historyLoaded: z.boolean(),
});
export type DemoConnection = z.infer<typeof schema>;

const secret = () => randomBytes(18).toString("base64url");

/** Credentials of a new demo: the publisher is `gateway`; password and token are random unless given. */
export function newConnection(
  anchor: number,
  given: {
    readonly password: string | null;
    readonly token: string | null;
    readonly people: DemoPasswords;
  },
): DemoConnection {
  return {
    mqttUrl: "",
    user: "gateway",
    password: given.password ?? secret(),
    httpUrl: "",
    token: given.token ?? secret(),
    people: given.people,
    anchor,
    daysLoadedTo: null,
    historyLoaded: false,
  };
}

/** The connection file's content. Throws an error that names the file where it cannot be read. */
export function readConnection(file: string): DemoConnection {
  try {
    return schema.parse(JSON.parse(readFileSync(file, "utf8")));
  } catch (cause) {
    throw new Error(`${file} cannot be read: remove the data folder to begin a new demo`, { cause });
  }
}

export const connectionExists = (file: string): boolean => existsSync(file);

/** Readable by its owner alone: it holds a password. */
export function writeConnection(file: string, connection: DemoConnection): void {
  writeFileSync(file, `${JSON.stringify(connection, null, 2)}\n`, { mode: 0o600 });
}
