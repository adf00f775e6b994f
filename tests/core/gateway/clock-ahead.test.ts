import { describe, expect, it } from "vitest";
import {
  type ClockAhead,
  type ClockNews,
  followClock,
  followerOf,
  isCalm,
} from "#core/gateway/clock-ahead.ts";
import { clockBehind } from "#core/gateway/clock-behind.ts";
import { aheadBy, clockBookOf } from "#core/gateway/clock-book.ts";
import { HOUR, MINUTE, SECOND } from "#core/time/instant.ts";

const T = Date.UTC(2026, 4, 13);
/** Commits of one stream as [receipt, oldest stamp, newest stamp], in seconds after T; what each made known. */
function follow(
  commits: readonly (readonly [received: number, oldest: number, newest: number, stream?: number])[],
  open: readonly ClockAhead[] = [],
): (ClockNews | null)[] {
  const follower = followerOf(open);
  return commits.map(([received, oldest, newest, stream = 1]) =>
    followClock(follower, {
      ...{ source: 7, stream, interval: MINUTE, received: T + received * SECOND },
      ...{ oldest: T + oldest * SECOND, newest: T + newest * SECOND },
    }),
  );
}

describe("a clock that runs ahead", () => {
  it("is known by the first reading from the future, and not by one that is two minutes early", () => {
    const [early, first] = follow([
      [0, 120, 120],
      [60, 3_660, 3_660],
    ]);
    expect(early).toBeNull();
    expect(first?.clock).toMatchObject({ offset: HOUR, uncertainty: MINUTE, since: T + MINUTE, until: null });
    expect(first?.judgeAgainFrom).toBeNull();
  });

  it("is known better by a message that was faster, and no worse by one that waited", () => {
    const [first, slower, faster] = follow([
      [0, 3_570, 3_570],
      [60, 3_620, 3_620],
      [120, 3_715, 3_715],
    ]);
    expect(first?.clock.offset).toBe(3_570 * SECOND);
    expect(slower).toBeNull();
    expect(faster?.clock).toMatchObject({ offset: 3_595 * SECOND, uncertainty: 35 * SECOND });
  });

  it("reaches back over a block whose first messages looked late, and not over a pause", () => {
    const news = follow([
      [0, -7_200, -7_000],
      [200, -6_000, -5_000],
      [210, -5_000, -100],
      [220, -100, 230],
      [230, 300, 3_800],
    ]);
    expect(news.slice(0, 4)).toEqual([null, null, null, null]);
    expect(news[4]).toMatchObject({
      clock: { since: T + 200 * SECOND },
      judgeAgainFrom: T - 6_000 * SECOND,
    });
  });

  it("is right again when it steps back, not when a message of a block passes by the right time", () => {
    const [, passing, right] = follow([
      [0, 3_600, 3_600],
      [60, 3_660, 3_660],
      [120, 120, 120],
    ]);
    expect(passing).toBeNull();
    expect(right?.clock.until).toBe(T + 120 * SECOND);
    const drained = follow([
      [0, 900, 900],
      [7_200, 1_000, 5_000],
      [7_201, 5_000, 7_190],
      [7_202, 7_190, 8_102],
    ]);
    expect(drained.flatMap((each) => (each?.clock.until ? [each] : []))).toEqual([]);
  });

  it("is one clock for streams that are ahead by the same, and not for one with a clock of its own", () => {
    const news = follow([
      [0, 3_600, 3_600, 1],
      [5, 3_603, 3_603, 2],
      [6, 600, 600, 3],
    ]);
    const [a, b, c] = news.map((each) => each?.clock);
    expect(b?.clock).toBe(a?.id);
    expect(c?.clock).toBe(c?.id);
  });

  it("is no broken stamp of next year", () => {
    expect(follow([[0, 31_536_000, 31_536_000]])).toEqual([null]);
  });

  it("costs nothing while all is on time", () => {
    expect(isCalm(followerOf([]), T, T + SECOND)).toBe(true);
    expect(isCalm(followerOf([]), T + HOUR, T)).toBe(false);
  });
});

describe("what came under it", () => {
  const clock = follow([[0, 3_600, 3_600]])[0]?.clock as ClockAhead;
  const ended = { ...clock, until: T + HOUR };
  const placed = { id: "p", clientId: "p", clock: clock.id, offset: HOUR, by: "", byId: "", received: T };
  const sent = (received: number, source = 7) => ({ stream: 1, source, received });

  it("is held until it is placed, by receipt and sender", () => {
    const held = clockBookOf([ended], []);
    expect(aheadBy(held, sent(T))).toBeNull();
    expect(aheadBy(held, sent(T - 1))).toBe(0);
    expect(aheadBy(held, sent(T + HOUR))).toBe(0);
    expect(aheadBy(held, sent(T, 8))).toBe(0);
    expect(aheadBy(clockBookOf([ended], [placed]), sent(T))).toBe(HOUR);
  });
});

describe("a clock that is behind", () => {
  const row = (quarter: number, shortest: number) => ({
    ...{ start: T + quarter * 15 * MINUTE, last: T + quarter * 15 * MINUTE + MINUTE, shortest },
  });
  it("is off by the shortest delay of a steady sender, since it was so", () => {
    const rows = [row(0, SECOND), row(1, 20 * MINUTE), row(2, 20 * MINUTE + 400), row(3, 21 * MINUTE)];
    expect(clockBehind(rows, T + 70 * MINUTE)).toEqual({
      ...{ offset: 20 * MINUTE, uncertainty: MINUTE, since: T + 15 * MINUTE },
    });
  });
  it("is not told by a block that was kept back", () => {
    const block = [row(0, 3 * HOUR), row(1, 2.75 * HOUR), row(2, 2.5 * HOUR), row(3, 2.25 * HOUR)];
    expect(clockBehind(block, T + 4 * HOUR)).toBeNull();
    expect(clockBehind([...block, row(4, SECOND)], T + 4 * HOUR)).toBeNull();
  });
  it("is not told by what was sent long ago", () => {
    const rows = [row(0, 20 * MINUTE), row(1, 20 * MINUTE), row(2, 20 * MINUTE)];
    expect(clockBehind(rows, T + 9 * HOUR)).toBeNull();
  });
});
