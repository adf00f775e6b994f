import type { Instant } from "../time/instant.ts";

/** What a process says of itself, every half minute. */
export interface ProcessReport {
  /** accepting, evaluating */
  readonly name: string;
  readonly host: string;
  readonly pid: number;
  readonly started: Instant;
  readonly at: Instant;
  readonly report: {
    /** Bytes of memory the process holds (resident). */
    readonly memory: number;
    /** Free and whole bytes of the disk of the data folder; null where it could not be asked. */
    readonly diskFree: number | null;
    readonly diskTotal: number | null;
    /** Bytes of the database with its log, where it is a file. */
    readonly databaseBytes: number | null;
    /** Of the accepting process: messages that wait to be stored, how long the last commit took, failed commits since it began. */
    readonly waiting?: number;
    readonly lastCommitMs?: number | null;
    readonly failedCommits?: number;
    /** The store's error from the last failed commit; null since the last successful one. */
    readonly trouble?: string | null;
    /** Minutes between scheduled backups; 0 where none are made. */
    readonly backupMinutes?: number;
  };
}

/** How often a process reports; one that misses three reports counts as gone. */
export const REPORT_EVERY = 30_000;
