export { clockSkew } from "./clock-skew.ts";
export { type Decoded, decodeMessage, type Place, placeOf, unknownQuantity } from "./decode.ts";
export { decodeEntry, type EntryResult, type WireReading } from "./entry.ts";
export { decodePayload, PAYLOAD_LIMIT, type PayloadResult } from "./payload.ts";
export { type Numbered, sequenceAccount } from "./sequence-gaps.ts";
export { decodeTopic, type ReadingTopic, readingTopic, TOPIC_ROOT, type TopicResult } from "./topic.ts";
