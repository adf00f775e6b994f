import type { Standing, StreamState, SystemState } from "#contract/views.ts";

export const STANDINGS: readonly Standing[] = ["action", "look", "unknown", "calm"];
export const RANK: Readonly<Record<Standing, number>> = { action: 0, look: 1, unknown: 2, calm: 3 };
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

/** Worst first: standing, then the greatest deviation, then volume, then name. */
export function worstFirst(a: SystemState, b: SystemState): number {
  return (
    RANK[a.standing] - RANK[b.standing] ||
    Math.abs(b.worst ?? 0) - Math.abs(a.worst ?? 0) ||
    (b.volume ?? 0) - (a.volume ?? 0) ||
    a.name.localeCompare(b.name, "en")
  );
}
