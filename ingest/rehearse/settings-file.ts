import { readFile } from "node:fs/promises";
import * as z from "zod";
import { NO_EDGES } from "#core/habitat/band.ts";
import { POINT_ROLE_IDS } from "#core/set-up/point-role.ts";
import { ReplayError } from "../replay/replay-error.ts";

const number = z.number();
const stream = z.strictObject({
  /** Seconds between readings; where it is given, silence is a finding too. */
  intervalSeconds: number.positive().optional(),
  critical: z.boolean().optional(),
  /** What its point is for; guessed from the column's name where it is left out. */
  role: z.enum(POINT_ROLE_IDS).optional(),
  /** Above 1: more of its steps and days is tolerated than usual. */
  tolerance: number.positive().optional(),
  band: z
    .strictObject({
      low: number.optional(),
      high: number.optional(),
      actionLow: number.optional(),
      actionHigh: number.optional(),
      urgentLow: number.optional(),
      urgentHigh: number.optional(),
    })
    .optional(),
});
const rehearsalSettings = z.strictObject({
  zone: z.string().optional(),
  water: z.enum(["fresh", "brackish", "marine"]).optional(),
  /** Cubic metres: small pools move fast and are asked sooner. */
  volume: number.positive().optional(),
  /** Metres above sea level. */
  elevation: number.optional(),
  youngFilter: z.boolean().optional(),
  /** By column of the file, in the registry's units. */
  streams: z.record(z.string(), stream).optional(),
});
export type RehearsalSettings = z.infer<typeof rehearsalSettings>;
export type StreamChoices = z.infer<typeof stream>;

/** All six edges of a band of which some are given. */
export const edgesOf = (band: NonNullable<StreamChoices["band"]>) => ({
  ...NO_EDGES,
  ...Object.fromEntries(Object.entries(band).filter(([, value]) => value !== undefined)),
});

/** Reads a settings file. Throws ReplayError naming what is wrong and where. */
export async function readRehearsalSettings(file: string): Promise<RehearsalSettings> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch (error) {
    throw new ReplayError(`--settings ${file} cannot be read: ${(error as Error).message}.`, {
      cause: error,
    });
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new ReplayError(`--settings ${file} is not JSON: ${(error as Error).message}.`, { cause: error });
  }
  const parsed = rehearsalSettings.safeParse(json);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  throw new ReplayError(
    `--settings ${file}: ${issue?.path.join(".") || "the file"}: ${issue?.message ?? "not understood"}.`,
  );
}
