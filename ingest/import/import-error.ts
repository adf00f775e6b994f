/** What stops the command, in one sentence for the person who typed it. */
export class ImportError extends Error {}
