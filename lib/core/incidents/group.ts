/** Findings that began together on one system, or on systems that share a loop, are one story. */
import { type Instant, MINUTE } from "../time/instant.ts";

/** Findings that began this close together are shown together. */
export const TOGETHER = 30 * MINUTE;

export interface Member {
  readonly id: string;
  readonly system: string;
  readonly loops: readonly string[];
  readonly began: Instant;
  /** State inputs say what happened; of the same moment they come first. */
  readonly isState: boolean;
}
export interface Incident<M extends Member> {
  /** The id of its first member. */
  readonly id: string;
  readonly began: Instant;
  /** In order of beginning: the first one went first. */
  readonly members: readonly M[];
  readonly systems: readonly string[];
}

const share = (a: Member, b: Member): boolean =>
  a.system === b.system || a.loops.some((loop) => b.loops.includes(loop));

const inOrder = (a: Member, b: Member): number =>
  a.began - b.began || Number(b.isState) - Number(a.isState) || (a.id < b.id ? -1 : 1);

/** Every finding in exactly one incident, in order of beginning. `members` in any order. */
export function incidentsOf<M extends Member>(members: readonly M[]): Incident<M>[] {
  const groups: M[][] = [];
  for (const member of [...members].sort(inOrder)) {
    const near = groups.filter((group) =>
      group.some((other) => member.began - other.began <= TOGETHER && share(member, other)),
    );
    const [first, ...rest] = near;
    if (!first) {
      groups.push([member]);
      continue;
    }
    // It may be what two stories have in common: then they are one.
    for (const other of rest) {
      first.push(...other);
      groups.splice(groups.indexOf(other), 1);
    }
    first.push(member);
  }
  return groups
    .map((group) => group.sort(inOrder))
    .map((group) => ({
      id: (group[0] as M).id,
      began: (group[0] as M).began,
      members: group,
      systems: [...new Set(group.map((member) => member.system))],
    }))
    .sort((a, b) => a.began - b.began);
}
