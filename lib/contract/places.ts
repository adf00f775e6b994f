/** Parts that several requests share. */
import * as z from "zod";

export const instant = z.number().int().describe("UTC milliseconds");
/** A short name, an id or another name of something. */
export const named = z.string().min(1).max(80);
/** Made by the sender and the same at each retry: what is sent is stored once. */
export const clientId = z
  .string()
  .min(1)
  .max(100)
  .regex(/^[\w.:-]+$/, "only letters, digits, dot, colon, dash and underscore")
  .describe("chosen by the sender and repeated at each retry, so that it is stored once");
export const reason = z.string().trim().min(3).max(500).describe("why; kept with the record");
export const note = z.string().max(2_000);
export const role = z.enum(["viewer", "aquarist", "technician", "curator", "administrator"]);
