import { describe, expect, it } from "vitest";
import { parseLiveEvent } from "#app/_components/live/live-feed.ts";
import {
  announcement,
  hasNewAction,
  keepOrder,
  mergeEvent,
  mergeWhole,
} from "#app/_components/live/live-merge.ts";
import { acceptedLanguage } from "#app/systems/_parts/chart/load-plot.ts";
import type { LiveEvent, Standing } from "#contract/views.ts";
import { NOW, stream, system, view } from "../views.ts";

const event = (seq: number, systems: LiveEvent["systems"]): LiveEvent => ({
  now: NOW + 1000,
  seq,
  systems,
  counts: { rejected: 3, unclaimed: 0 },
});

describe("live events", () => {
  const held = { view: view([system("a", [stream()]), system("b", [stream()])]), rejected: null };

  it("replace only the systems they name", () => {
    const changed = system("b", [stream({ value: 17 })], { standing: "look" });
    const after = mergeEvent(held, event(11, [changed]));
    expect(after.view.systems[0]).toBe(held.view.systems[0]);
    expect(after.view.systems[1]).toBe(changed);
    expect([after.view.seq, after.rejected, after.view.now]).toEqual([11, 3, NOW + 1000]);
  });

  it("older than what is held change nothing", () => {
    expect(mergeEvent(held, event(9, [system("b", [])]))).toBe(held);
    expect(mergeWhole(held, view([], { seq: 9 }))).toBe(held);
  });

  it("bring new systems in", () => {
    expect(mergeEvent(held, event(12, [system("c", [])])).view.systems.map((s) => s.system)).toEqual([
      "a",
      "b",
      "c",
    ]);
  });

  it("name the oldest critical reading", () => {
    const old = system("b", [stream({ at: NOW - 9_000_000 }), stream({ at: 1, critical: false })]);
    expect(mergeEvent(held, event(12, [old])).view.oldest).toEqual({
      system: "b",
      quantity: "temperature",
      at: NOW - 9_000_000,
    });
  });

  it("keep what did not change the same object when all is read anew", () => {
    const again = mergeWhole(held, structuredClone(view([...held.view.systems, system("c", [])])));
    expect(again.view.systems[0]).toBe(held.view.systems[0]);
    expect(again.view.systems).toHaveLength(3);
  });

  it("that are not events are not taken", () => {
    expect([parseLiveEvent("<html>"), parseLiveEvent("3"), parseLiveEvent('{"seq":1}')]).toEqual([
      null,
      null,
      null,
    ]);
    expect(parseLiveEvent(JSON.stringify(event(1, [])))?.seq).toBe(1);
  });
});

describe("order and announcements", () => {
  const before = new Map<string, Standing>([
    ["a", "calm"],
    ["b", "look"],
  ]);
  const now = [
    system("a", [stream({ value: 19, standing: "action", deviation: 1.5 })], {
      name: "A",
      standing: "action",
    }),
    system("b", []),
  ];

  it("rows stay where they are until they may move", () => {
    expect(keepOrder(["b", "a"], now, false)).toEqual(["b", "a"]);
    expect(keepOrder(["b", "a"], now, true)).toEqual(["a", "b"]);
    expect(keepOrder(["gone", "b"], now, false)).toEqual(["b", "a"]);
    expect(hasNewAction(before, now)).toBe(true);
    expect(hasNewAction(new Map([["a", "action" as const]]), now)).toBe(false);
  });

  it("only a changed standing is said", () => {
    expect(announcement(before, now)).toBe("A: needs action, Temperature 19.0 °C. b: calm.");
    expect(announcement(new Map(now.map((s) => [s.system, s.standing])), now)).toBe("");
  });
});

describe("a language that Intl refuses", () => {
  it("is set aside while the plotting library loads, and then restored", () => {
    // en-US@posix is what Chromium reports under LANG=C; RFC 5646 has no "@" in a tag.
    const navigator = Object.create({ language: "en-US@posix" }) as { language: string };
    const restore = acceptedLanguage(navigator);
    expect(() => new Intl.NumberFormat(navigator.language)).not.toThrow();
    restore();
    expect(navigator.language).toBe("en-US@posix");
  });

  it("is left alone where Intl knows it", () => {
    const navigator = { language: "de-CH" };
    acceptedLanguage(navigator)();
    expect(navigator.language).toBe("de-CH");
  });
});
