import { pointWords } from "#app/_components/words/point-words.ts";
import type { Standing, SystemState } from "#contract/views.ts";
import { rankOf, STANDINGS } from "#core/alarms/standing.ts";

export type Grouping = "standing" | "loop";
export interface RackGroup {
  readonly id: string;
  /** Empty for what comes first of all and needs no name. */
  readonly title: string;
  readonly systems: readonly SystemState[];
}

/**
 * Systems in the order held, parted where it matters: what asks for somebody, what is not known, what is calm. `held` is how each stood when
 * the order was made, so that a row does not leap to another part before its time.
 */
export function byStanding(
  systems: readonly SystemState[],
  held: ReadonlyMap<string, Standing>,
): RackGroup[] {
  const of = (standing: Standing) => systems.filter((s) => (held.get(s.system) ?? s.standing) === standing);
  const parts: RackGroup[] = [
    { id: "asks", title: "", systems: [...of("action"), ...of("look")] },
    { id: "unknown", title: "Not known", systems: of("unknown") },
    { id: "calm", title: "Calm", systems: of("calm") },
  ];
  return parts.filter((part) => part.systems.length > 0);
}

/** A part for each loop, the one with the worst system first; a system on several loops stands in each of them. */
export function byLoop(systems: readonly SystemState[]): RackGroup[] {
  const loops = [...new Set(systems.flatMap((s) => s.loops))];
  const groups = loops.map((loop): RackGroup => {
    const words = pointWords(loop);
    const title = `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
    return { id: loop, title, systems: systems.filter((s) => s.loops.includes(loop)) };
  });
  const count = (group: RackGroup, standing: Standing) =>
    group.systems.filter((s) => s.standing === standing).length;
  groups.sort((a, b) => {
    for (const standing of STANDINGS.filter((s) => rankOf(s) < rankOf("calm"))) {
      const more = count(b, standing) - count(a, standing);
      if (more !== 0) return more;
    }
    return a.title.localeCompare(b.title, "en");
  });
  const alone = systems.filter((s) => s.loops.length === 0);
  return alone.length === 0 ? groups : [...groups, { id: "", title: "Not on a loop", systems: alone }];
}
