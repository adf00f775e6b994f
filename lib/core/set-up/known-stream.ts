import { isQuantityId, type QuantityId } from "../units/quantity.ts";
import type { Stream } from "./set-up.ts";

/** A stream whose quantity the registry has. One that it lost keeps its readings and its place in set-up, and nothing is judged by them. */
export type KnownStream = Stream & { readonly quantity: QuantityId };
export const isKnownStream = (stream: Stream): stream is KnownStream => isQuantityId(stream.quantity);
