/** The small shapes that the files of a scenario folder are made of. */
import { z } from "zod";

/** A code of a system, point, loop, plan or species. */
export const code = z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, "lower-case words joined by hyphens");
export const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'a local clock such as "05:30"');
/** A day counted from D1 and a local clock. */
export const moment = z
  .string()
  .regex(/^D-?\d{1,3} ([01]\d|2[0-3]):[0-5]\d(:[0-5]\d)?$/, 'a day and local clock such as "D4 01:37"');
export const text = z.string().min(1);
/** Where something is measured. */
export const place = { system: code, point: code, quantity: text };
