import type * as z from "zod";
import { invalid } from "#services/errors.ts";
import { parse } from "#services/parse.ts";
import { BadRequest } from "./problem.ts";

/** Ten thousand readings with long names fit. */
const MOST_BYTES = 4 * 1024 * 1024;
const NUMBERS: ReadonlySet<string> = new Set([
  ...["points", "from", "to", "seq", "limit", "at", "before"],
  ...["latitude", "longitude", "depth", "year"],
]);
const DIGITS = /^-?\d{1,15}(\.\d{1,15})?$/;

/** The query of a URL by its schema. Digits become a number where a number is meant; a name given twice is refused. */
export function readQuery<S extends z.ZodType>(schema: S, url: string): z.output<S> {
  const sent: Record<string, string | number> = Object.create(null) as Record<string, string | number>;
  for (const [name, text] of new URL(url).searchParams) {
    if (name in sent)
      throw invalid([
        { field: name, value: text.slice(0, 80), says: "is given twice", remedy: "give it once" },
      ]);
    sent[name] = NUMBERS.has(name) && DIGITS.test(text) ? Number(text) : text;
  }
  return parse(schema, { ...sent });
}

async function readBounded(request: Request): Promise<Uint8Array> {
  const announced = Number(request.headers.get("content-length") ?? 0);
  const tooLarge = () =>
    new BadRequest(
      413,
      `The body is larger than ${MOST_BYTES / 1024 / 1024} MiB: send it in several requests.`,
    );
  if (announced > MOST_BYTES) throw tooLarge();
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  // The announced length may be absent or wrong, so what arrives is counted.
  const reader = request.body?.getReader();
  for (let next = await reader?.read(); next && !next.done; next = await reader?.read()) {
    bytes += next.value.byteLength;
    if (bytes > MOST_BYTES) throw tooLarge();
    chunks.push(next.value);
  }
  return Buffer.concat(chunks);
}

/** The JSON body of a request, bounded; what it means is the service's to check. Throws BadRequest. */
export async function readJson(request: Request): Promise<unknown> {
  const type = request.headers.get("content-type")?.split(";")[0]?.trim().toLowerCase();
  if (type !== "application/json")
    throw new BadRequest(415, `The body is ${type ?? "of no type"}: send content-type application/json.`);
  const bytes = await readBounded(request);
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (error) {
    const why = error instanceof SyntaxError ? error.message : "it is not UTF-8";
    throw new BadRequest(400, `The body is not JSON: ${why.slice(0, 120)}`);
  }
}
