import type { Standing, StreamState, SystemState } from "#contract/views.ts";
import { STANDINGS } from "#core/alarms/standing.ts";

export const STANDING_WORD: Readonly<Record<Standing, string>> = {
  action: "needs action",
  look: "needs a look",
  unknown: "not known",
  calm: "calm",
};

/** How a stream is drawn: like its standing, but a value that cannot be believed is apart from one that is not there. */
export type SeenAs = Standing | "doubtful";

export function seenAs(stream: StreamState): SeenAs {
  if (stream.value === null && stream.word === null) return "unknown";
  if (stream.silent) return "unknown";
  // A finding of before may still stand; the value itself says nothing about the water.
  if (stream.standing === "unknown" || stream.flag >= 3) return "doubtful";
  return stream.standing;
}

export const SEEN_WORD: Readonly<Record<SeenAs, string>> = {
  ...STANDING_WORD,
  calm: "in band",
  doubtful: "probe suspect",
};

const plural = (standing: Standing, n: number): string => {
  if (standing === "action") return n === 1 ? "needs action" : "need action";
  if (standing === "look") return n === 1 ? "needs a look" : "need a look";
  return STANDING_WORD[standing];
};

/** "1 needs action", "3 need a look" ...: only what there is, worst first. */
export function countWords(systems: readonly SystemState[]): { standing: Standing; text: string }[] {
  return STANDINGS.map((standing) => ({ standing, n: systems.filter((s) => s.standing === standing).length }))
    .filter(({ n }) => n > 0)
    .map(({ standing, n }) => ({ standing, text: `${n} ${plural(standing, n)}` }));
}
