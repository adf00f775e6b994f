import { readFileSync } from "node:fs";

/** Payloads good and broken, kept as data so that the decoder, the broker and the subscriber are judged on the same ones. */
interface Written {
  readonly name: string;
  readonly topic: string;
  readonly payload?: string;
  readonly base64?: string;
  readonly repeat?: {
    readonly text: string;
    readonly times: number;
    readonly before?: string;
    readonly after?: string;
  };
}
export interface GoodPayload extends Written {
  /** `at` null = the time of receipt. */
  readonly readings: readonly { readonly at: number | null; readonly value: number }[];
}
export interface BrokenPayload extends Written {
  readonly reason: string;
}

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../fixtures/payloads/${name}.json`, import.meta.url), "utf8"));
export const goodPayloads = read("good") as readonly GoodPayload[];
export const brokenPayloads = read("broken") as readonly BrokenPayload[];

export function bytesOf(written: Written): Buffer {
  if (written.base64 !== undefined) return Buffer.from(written.base64, "base64");
  if (written.repeat === undefined) return Buffer.from(written.payload ?? "");
  const { before = "", text, times, after = "" } = written.repeat;
  return Buffer.from(before + text.repeat(times) + after);
}
