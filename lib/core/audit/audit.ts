/** One row for each write by a person or a program, chained so that a later change to any of them shows. */
import type { Instant } from "../time/instant.ts";

export interface NewAudit {
  readonly at: Instant;
  /** As it appears in records, and the account or token behind it. */
  readonly actor: string;
  readonly actorId: string;
  /** What was done, e.g. "record-bench". */
  readonly verb: string;
  /** What it was done to, e.g. "bench-test:<id>". */
  readonly subject: string;
  /** What was written, without secrets; stored as canonical JSON. */
  readonly record: unknown;
}
export interface AuditRow extends Omit<NewAudit, "record"> {
  readonly seq: number;
  readonly record: string;
  /** Hash of the row before; of the first one the empty text. */
  readonly before: string;
  readonly hash: string;
}
export interface AuditCheck {
  readonly rows: number;
  /** The first row that does not follow from the one before; null where all do. */
  readonly broken: number | null;
  /** Hash of the newest row: kept outside too, it shows rows cut off at the end. */
  readonly head: string;
}

/**
 * JSON with the keys of every object in order of their code units and nothing between the parts, so that one record has one text. What is
 * undefined is left out; numbers are written as ECMAScript does. Source: RFC 8785 (JSON Canonicalization Scheme), sections 3.2.2 and 3.2.3.
 */
export function canonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map((item) => canonicalJson(item ?? null)).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value ?? null);
  const parts = Object.entries(value)
    .filter(([, inner]) => inner !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, inner]) => `${JSON.stringify(key)}:${canonicalJson(inner)}`);
  return `{${parts.join(",")}}`;
}

/** The text whose SHA-256 is a row's hash: everything in it, and the hash before. */
export function chainedText(row: Omit<AuditRow, "hash">): string {
  const { seq, at, actor, actorId, verb, subject, record, before } = row;
  return canonicalJson([before, seq, at, actor, actorId, verb, subject, record]);
}
