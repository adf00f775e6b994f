import { AppError, shorten } from "../errors.ts";

/** Refuses a short name that something has already. */
export const taken = (field: string, value: string, what: string): AppError =>
  new AppError("conflict", `${what} "${shorten(value)}" exists already.`, {
    issues: [{ field, value, says: "exists already", remedy: "choose another short name" }],
  });
