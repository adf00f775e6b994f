/**
 * Topics of readings: `homewater/<site>/<system>/<point>/<quantity>`. What Homewater itself publishes (`status`, `alarm`) lies
 * under the same root and is recognised here, so that a subscriber to everything does not take its own words for readings.
 */
export const TOPIC_ROOT = "homewater";

export interface ReadingTopic {
  readonly site: string;
  readonly system: string;
  readonly point: string;
  readonly quantity: string;
}
export type TopicResult =
  | { readonly kind: "reading"; readonly names: ReadingTopic }
  /** Published by Homewater for others: nothing to take in. */
  | { readonly kind: "ours" }
  | { readonly kind: "refused"; readonly reason: string };

const LAYOUT = `${TOPIC_ROOT}/<site>/<system>/<point>/<quantity>`;
/** Short names: letters, digits, hyphen, underscore and full stop, beginning with a letter or digit. */
const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/;
const LEVELS = ["site", "system", "point", "quantity"] as const;

/**
 * Reads a topic. Never throws. `topic` is the full MQTT topic name; a name of up to 64 characters of
 * letters, digits, `-`, `_`, `.` is taken at each level, anything else is refused with a reason that says which level.
 * Source: MQTT 3.1.1 section 4.7 for levels and separators; the layout is Homewater's own.
 */
export function decodeTopic(topic: string): TopicResult {
  const parts = topic.split("/", 6);
  if (parts[0] !== TOPIC_ROOT) return refused(`topic does not begin with ${TOPIC_ROOT}/: send to ${LAYOUT}`);
  if ((parts.length === 3 && parts[2] === "status") || (parts.length > 3 && parts[2] === "alarm"))
    return { kind: "ours" };
  if (parts.length !== 5)
    return refused(
      `topic has ${parts.length > 5 ? "more than 5" : parts.length} levels instead of 5: send to ${LAYOUT}`,
    );
  for (const [index, level] of LEVELS.entries()) {
    const name = parts[index + 1] as string;
    if (!NAME.test(name))
      return refused(
        `topic's ${level} is ${JSON.stringify(name.slice(0, 64))}: use 1 to 64 letters, digits, "-", "_" or "."`,
      );
  }
  const [, site, system, point, quantity] = parts as [string, string, string, string, string];
  return { kind: "reading", names: { site, system, point, quantity } };
}

function refused(reason: string): TopicResult {
  return { kind: "refused", reason };
}

/** The topic of a stream. Names are taken as they are; `decodeTopic` reads back exactly what is written. */
export function readingTopic(names: ReadingTopic): string {
  return `${TOPIC_ROOT}/${names.site}/${names.system}/${names.point}/${names.quantity}`;
}
