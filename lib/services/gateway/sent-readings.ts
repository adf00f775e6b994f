import {
  decodeEntry,
  decodeTopic,
  type ReadingTopic,
  readingTopic,
  unknownQuantity,
  type WireReading,
} from "#core/gateway/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity } from "#core/units/index.ts";
import type { SourceKind } from "#store/port.ts";
import { type FieldIssue, invalid, shorten } from "../errors.ts";
import type { Part } from "./message.ts";

/** A reading as the API sends it; the contents of every field are checked here. */
export interface SentReading {
  readonly system: string;
  readonly point: string;
  readonly quantity: string;
  /** RFC 3339 with an offset, or milliseconds since 1970. */
  readonly at: string | number;
  readonly value: number | string;
  readonly unit?: string | undefined;
  readonly sequence?: number | undefined;
  readonly history?: boolean | undefined;
}
type Placed = { readonly names: ReadingTopic; readonly reading: WireReading };

/** The API's readings by stream, all or none: throws AppError "invalid" with every fault found, so that all can be corrected at once. */
export async function partsOfSent(
  readings: readonly SentReading[],
  sender: { readonly client: string; readonly kind: SourceKind },
  received: Instant,
  siteOf: (system: string) => Promise<string | null>,
): Promise<readonly Part[]> {
  const issues: FieldIssue[] = [];
  const byTopic = new Map<string, { readonly names: ReadingTopic; readonly readings: WireReading[] }>();
  for (const [index, sent] of readings.entries()) {
    const placed = place(sent, await siteOf(sent.system), received);
    if ("says" in placed) {
      issues.push({ ...placed, field: `readings.${index}.${placed.field}` });
      continue;
    }
    const topic = readingTopic(placed.names);
    const part = byTopic.get(topic);
    if (part) part.readings.push(placed.reading);
    else byTopic.set(topic, { names: placed.names, readings: [placed.reading] });
  }
  if (issues.length > 0) throw invalid(issues);
  return [...byTopic].map(([topic, part]) => ({
    kind: "readings",
    topic,
    ...part,
    client: sender.client,
    senderKind: sender.kind,
    dup: false,
  }));
}

function place(sent: SentReading, site: string | null, received: Instant): Placed | FieldIssue {
  const fault = (field: keyof SentReading, says: string, remedy: string): FieldIssue => ({
    field,
    value: sent[field] === undefined ? null : shorten(sent[field]),
    says,
    remedy,
  });
  if (site === null)
    return fault("system", "is not set up here", "use a system's short name: GET /api/v1/systems lists them");
  const names = { site, system: sent.system, point: sent.point, quantity: sent.quantity };
  const spec = quantity(sent.quantity);
  if (spec === undefined) {
    const { says, remedy } = unknownQuantity(sent.quantity);
    return fault("quantity", says, remedy);
  }
  if (decodeTopic(readingTopic(names)).kind !== "reading")
    return fault(
      "point",
      "is not a short name",
      "use 1 to 64 letters, digits, hyphen, underscore or full stop",
    );
  const { at, value, unit, sequence, history } = sent;
  const entry = Object.fromEntries(
    Object.entries({ at, value, unit, sequence, history }).filter(([, given]) => given !== undefined),
  );
  const decoded = decodeEntry(entry, spec, received);
  if (decoded.ok) return { names, reading: decoded.reading };
  return fault(decoded.field ?? "value", decoded.says, decoded.remedy);
}
