/** What stops the command, in one sentence for who typed it. */
export class ImportError extends Error {}
