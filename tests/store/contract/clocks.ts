import { expect, it } from "vitest";
import { audit, clockAhead, placement, placementVoid } from "./samples.ts";
import { eachWith, evaluator, type OpenSubject, T, withParts } from "./subject.ts";

export function describeClocks(open: OpenSubject): void {
  const subject = eachWith(open);

  it("keeps what an evaluation knows of clocks, and what it knows better", async () => {
    const { store, temperature } = await withParts(subject().store);
    expect(await store.readSenderClocks()).toEqual({ clocks: [], placements: [] });
    const commit = await evaluator(store);
    await commit({ clocks: [clockAhead(temperature)] });
    await commit({ clocks: [clockAhead(temperature, { until: T + 60_000, offset: 2_840_500 })] });
    expect(await store.readSenderClocks()).toEqual({
      clocks: [clockAhead(temperature, { until: T + 60_000, offset: 2_840_500 })],
      placements: [],
    });
  });

  it("places a clock once a client id, has its streams judged again, and takes it back once", async () => {
    const { store, temperature } = await withParts(subject().store);
    const commit = await evaluator(store);
    await commit({ clocks: [clockAhead(temperature)] });
    const again = [{ stream: temperature, from: T - 600_000 }];
    const place = () => store.placeClock(placement(), again, T + 5, audit("place-readings"));
    const first = await place();
    expect(first).toEqual({ stored: { ...placement(), received: T + 5 }, repeated: false });
    expect(await place()).toEqual({ ...first, repeated: true });
    expect((await store.journalAfter(0, 10)).map(({ kind, rejudge }) => [kind, rejudge])).toEqual([
      ["clock", { stream: temperature, from: T - 600_000 }],
    ]);
    expect((await store.readSenderClocks()).placements).toEqual([first.stored]);
    const second = placement({ id: "placement-2", clientId: "placement-client-2" });
    await expect(store.placeClock(second, again, T + 6, audit("place-readings"))).rejects.toMatchObject({
      code: "invalid",
    });

    const takeBack = (clientId: string) =>
      store.voidPlacement({ ...placementVoid(), clientId }, again, T + 9, audit("withdraw-placement"));
    await takeBack("void-1");
    await takeBack("void-1");
    await expect(takeBack("void-2")).rejects.toMatchObject({ code: "invalid" });
    expect((await store.readSenderClocks()).placements).toEqual([]);
    expect((await store.readAudit({ limit: 10 })).map(({ verb }) => verb)).toEqual([
      "withdraw-placement",
      "place-readings",
    ]);
    await store.placeClock(second, again, T + 10, audit("place-readings"));
    expect((await store.readSenderClocks()).placements).toMatchObject([{ id: "placement-2" }]);
  });
}
