/**
 * Senders whose clock runs ahead. What is measured cannot come from the future, so the newest reading of a message shows at once by how much a
 * clock is ahead at least; what else came with it was stamped by the same clock. Followed for each stream of a sender, because a gateway may
 * pass on what devices with clocks of their own have stamped.
 */
import { DAY, type Instant, MINUTE, SECOND } from "../time/instant.ts";

/** Receipts in which a sender stamped the readings of one stream with a clock that ran ahead. */
export interface ClockAhead {
  readonly id: string;
  /** The id of the first that tells of the same clock: its streams come one by one. */
  readonly clock: string;
  readonly source: number;
  readonly stream: number;
  /** From the first such receipt, up to but not at the first right one; null while it goes on. */
  readonly since: Instant;
  readonly until: Instant | null;
  /** Milliseconds ahead, at least, and how much more it may be. */
  readonly offset: number;
  readonly uncertainty: number;
}

/** The readings of one stream in one message or commit: the newest stamp, and the receipt. */
export interface Stamped {
  readonly source: number;
  readonly stream: number;
  readonly oldest: Instant;
  readonly newest: Instant;
  readonly received: Instant;
  /** Expected time between readings; null where it is not known. */
  readonly interval: number | null;
}

/** A sender's time may be this far ahead of ours. Common practice, no source. */
export const AHEAD = 2 * MINUTE;
/** A stamp further off is no clock that runs ahead but a broken stamp. Our own. */
const FURTHEST = 30 * DAY;
/** So late a right clock may be with a message that it sends at once. Our own. */
const ON_TIME = 5 * MINUTE;
/** Messages of one block follow each other closer than this. Our own. */
const BLOCK_PAUSE = 30 * SECOND;
/** An offset that is not known better than this is told no better: clocks are set to the second, messages take their time. */
const LEAST_UNCERTAINTY = SECOND;
/** Two streams tell of the same clock where their offsets are this close, or closer than their uncertainty. */
const SAME_CLOCK = MINUTE;

/** Late messages that came close together: the beginning of a block, whose newest stamp is still to come. */
interface Block {
  readonly since: Instant;
  readonly last: Instant;
  /** Its oldest stamp. */
  readonly oldest: Instant;
}

/** What is remembered of senders' clocks from commit to commit. */
export interface ClockFollower {
  /** Open ones, by stream and source. */
  readonly open: Map<string, ClockAhead>;
  /** Newest stamp under each open one, where it is known. */
  readonly newest: Map<string, Instant>;
  readonly blocks: Map<string, Block>;
}

const keyOf = ({ source, stream }: Pick<Stamped, "source" | "stream">): string => `${source}.${stream}`;

export const followerOf = (open: readonly ClockAhead[]): ClockFollower => ({
  open: new Map(open.filter(({ until }) => until === null).map((one) => [keyOf(one), one])),
  newest: new Map(),
  blocks: new Map(),
});

/** Whether a commit says nothing about clocks, so that the calm path need not look: on time, and nothing is open or begun. */
export const isCalm = (follower: ClockFollower, at: Instant, received: Instant): boolean =>
  follower.open.size === 0 &&
  follower.blocks.size === 0 &&
  at - received <= AHEAD &&
  received - at <= ON_TIME;

/** Forgets blocks that are over: nothing followed them that was ahead. */
export function forgetBlocks({ blocks }: ClockFollower, received: Instant): void {
  for (const [key, { last }] of blocks) if (received - last > BLOCK_PAUSE) blocks.delete(key);
}

/** What has become known of a clock, and the oldest stamp of the messages before it that it tells about; null where there were none. */
export interface ClockNews {
  readonly clock: ClockAhead;
  readonly judgeAgainFrom: Instant | null;
}

/** Takes the stamps of one commit; returns what began, ended or is known better. */
export function followClock(follower: ClockFollower, stamped: Stamped): ClockNews | null {
  const key = keyOf(stamped);
  const { newest, received } = stamped;
  const ahead = newest - received;
  const open = follower.open.get(key);
  if (open) {
    const clock = goOn(follower, key, open, stamped);
    return clock && { clock, judgeAgainFrom: null };
  }
  const before = follower.blocks.get(key);
  const block = before && received - before.last <= BLOCK_PAUSE ? before : null;
  if (ahead <= AHEAD || ahead > FURTHEST) {
    // A block of a right clock ends on time; of one that runs ahead its messages pass through every delay.
    if (-ahead > ON_TIME || block)
      follower.blocks.set(key, {
        since: block?.since ?? received,
        last: received,
        oldest: Math.min(stamped.oldest, block?.oldest ?? stamped.oldest),
      });
    else follower.blocks.delete(key);
    return null;
  }
  follower.blocks.delete(key);
  follower.newest.set(key, newest);
  const { source, stream, interval } = stamped;
  const since = block?.since ?? received;
  const uncertainty = Math.max(LEAST_UNCERTAINTY, interval ?? MINUTE);
  const id = `${source}.${stream}.${since}`;
  const known = [...follower.open.values()].find(
    (other) =>
      other.source === source &&
      Math.abs(other.offset - ahead) <= Math.max(SAME_CLOCK, other.uncertainty, uncertainty),
  );
  const begun = {
    id,
    clock: known?.clock ?? id,
    source,
    stream,
    since,
    until: null,
    offset: ahead,
    uncertainty,
  };
  follower.open.set(key, begun);
  return { clock: begun, judgeAgainFrom: block?.oldest ?? null };
}

function goOn(
  follower: ClockFollower,
  key: string,
  open: ClockAhead,
  { newest, received }: Stamped,
): ClockAhead | null {
  const ahead = newest - received;
  const last = follower.newest.get(key) ?? Number.POSITIVE_INFINITY;
  // A clock that is set right steps back; the messages of a block that happen to be on time do not.
  const isRight = ahead <= AHEAD && -ahead <= ON_TIME && newest < last - open.offset / 2;
  if (isRight) {
    follower.open.delete(key);
    follower.newest.delete(key);
    return { ...open, until: received };
  }
  follower.newest.set(key, Number.isFinite(last) ? Math.max(last, newest) : newest);
  if (ahead <= open.offset || ahead > FURTHEST) return null;
  // What came faster tells better: it is ahead by so much at least, and what was not known is less by as much.
  const gained = ahead - open.offset;
  if (gained < LEAST_UNCERTAINTY) return null;
  const better = {
    ...open,
    offset: ahead,
    uncertainty: Math.max(LEAST_UNCERTAINTY, open.uncertainty - gained),
  };
  follower.open.set(key, better);
  return better;
}
