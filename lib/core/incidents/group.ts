/** Findings that began together on one system, or on systems that share a loop, are one incident; what follows from them joins it. */
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";

/** Findings that began this close together are shown together. */
export const TOGETHER = 30 * MINUTE;

/** What follows from a machine that stands joins it for so long, and what follows from water that needs action. Common practice, no source. */
const FOLLOWS_STATE = 6 * HOUR;
const FOLLOWS_ACTION = 3 * HOUR;

export interface Member {
  readonly id: string;
  readonly system: string;
  /** What is measured, and where. */
  readonly stream: string;
  readonly loops: readonly string[];
  readonly began: Instant;
  /** Null while it lasts. */
  readonly ended: Instant | null;
  /** State inputs say what happened; of the same moment they come first. */
  readonly isState: boolean;
  /** Of what fell silent: the gateway it came from; null for everything else. */
  readonly sender: string | null;
  /** A probe held against its bench tests: what it says of itself has grounds of its own, and is no part of what the water did. */
  readonly isAlone: boolean;
  /** The water needs action, or did: no finding about a probe. */
  readonly isGrave: boolean;
}
export interface Incident<M extends Member> {
  /** The id of its first member. */
  readonly id: string;
  readonly began: Instant;
  /** In order of beginning: the first one went first. */
  readonly members: readonly M[];
  readonly systems: readonly string[];
}

/** Streams of one gateway are read at intervals of their own: they fall silent within so long of each other. */
const ONE_SENDER = 90 * MINUTE;

/** What one gateway no longer sends is one incident over all its systems, apart from what the water does. */
const share = (a: Member, b: Member): boolean => {
  if (a.isAlone || b.isAlone) return false;
  return a.sender !== null || b.sender !== null ? a.sender === b.sender : shareWater(a, b);
};

const shareWater = (a: Member, b: Member): boolean =>
  a.system === b.system || a.loops.some((loop) => b.loops.includes(loop));

const inOrder = (a: Member, b: Member): number =>
  a.began - b.began || Number(b.isState) - Number(a.isState) || (a.id < b.id ? -1 : 1);

const lasted = (other: Member, until: Instant): boolean => other.ended === null || other.ended >= until;

/** Whether a finding belongs with one that began before it: soon after it, or while what it follows from goes on. */
function follows(later: Member, other: Member): boolean {
  const apart = later.began - other.began;
  if (!share(later, other)) return false;
  if (apart <= (later.sender === null ? TOGETHER : ONE_SENDER)) return true;
  if (!lasted(other, later.began - TOGETHER)) return false;
  const overlaps = other.ended === null || other.ended > later.began;
  if (other.stream === later.stream && overlaps) return true;
  if (other.isState && apart <= FOLLOWS_STATE) return true;
  return other.isGrave && later.isGrave && other.system === later.system && apart <= FOLLOWS_ACTION;
}

/** Every finding in exactly one incident, in order of beginning. `members` in any order. */
export function incidentsOf<M extends Member>(members: readonly M[]): Incident<M>[] {
  const groups: M[][] = [];
  for (const member of [...members].sort(inOrder)) {
    const near = groups.filter((group) => group.some((other) => follows(member, other)));
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
