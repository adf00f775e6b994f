/** Where an import stands. */
export const IMPORT_STATES = ["running", "done", "withdrawn"] as const;
export type ImportState = (typeof IMPORT_STATES)[number];
