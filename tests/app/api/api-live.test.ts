import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { createLiveHub, type LiveClient, type Reach } from "#app/_server/live.ts";
import { liveStream } from "#app/_server/live-stream.ts";
import { type LiveEvent, liveEvent } from "#contract/views.ts";
import { HOUR } from "#core/time/instant.ts";
import { readSystems } from "#services/systems/read-systems.ts";
import { makePerson } from "#tests/helpers/sign-in.ts";
import { current, NOW } from "#tests/services/world.ts";
import { type Api, openApi } from "./api-world.ts";

const { GET } = await import("#app/api/v1/live/route.ts");

let api: Api;
const stops: AbortController[] = [];
beforeEach(async () => {
  api = await openApi();
});
afterEach(async () => {
  for (const stop of stops.splice(0)) stop.abort();
  await api.dispose();
});

interface Heard {
  readonly id: string;
  readonly event: LiveEvent;
}

/** A listener that reads server-sent events as a browser does (WHATWG HTML section 9.2.6: blocks end with an empty line). */
function listen(body: ReadableStream<Uint8Array>) {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  let text = "";
  return {
    async next(): Promise<Heard | "end"> {
      for (;;) {
        const cut = text.indexOf("\n\n");
        if (cut >= 0) {
          const lines = text.slice(0, cut).split("\n");
          text = text.slice(cut + 2);
          const field = (name: string) =>
            lines.find((line) => line.startsWith(`${name}: `))?.slice(name.length + 2);
          const data = field("data");
          if (data !== undefined) return { id: field("id") ?? "", event: liveEvent.parse(JSON.parse(data)) };
          continue;
        }
        const { done, value } = await reader.read();
        if (done) return "end";
        text += decoder.decode(value, { stream: true });
      }
    },
  };
}

async function open(path = "", headers: Record<string, string> = {}) {
  const stop = new AbortController();
  stops.push(stop);
  const request = new Request(`http://localhost:3000/api/v1/live${path}`, {
    headers: { host: "localhost:3000", ...headers },
    signal: stop.signal,
  });
  const response = await GET(request, { params: Promise.resolve({}) });
  if (!response.body) throw new Error("no body");
  return { response, stop, ears: listen(response.body) };
}
const said = (heard: Heard | "end") =>
  heard === "end" ? ["end"] : heard.event.systems.map((row) => row.system);

async function aReading(code: string, value: number, seq = 1) {
  const stream = await api.stream(code, "display", "temperature");
  await api.evaluated({ current: [current(stream, value)], cursor: { seq, received: NOW } });
}

describe("live updates", () => {
  test("begin with everything, then tell only what changed, without being asked again", async () => {
    await aReading("kelp", 25);
    const { response, ears } = await open();
    expect(response.headers.get("content-type")).toContain("text/event-stream");
    expect(response.headers.get("cache-control")).toBe("no-cache, no-transform");
    expect(response.headers.get("x-accel-buffering")).toBe("no");
    expect(said(await ears.next()).sort()).toEqual(["kelp", "reef"]);
    await aReading("reef", 26, 7);
    const heard = await ears.next();
    expect(said(heard)).toEqual(["reef"]);
    expect(heard).toMatchObject({ id: "7", event: { seq: 7, systems: [{ streams: [{ value: 26 }] }] } });
  });

  test("a commit that changes nothing for people is not told", async () => {
    await aReading("reef", 25);
    const { ears } = await open();
    await ears.next();
    await api.store.note("up", null, NOW);
    await new Promise((done) => setTimeout(done, 250));
    await aReading("kelp", 24, 2);
    expect(said(await ears.next())).toEqual(["kelp"]);
  });

  test("who comes back with the last id hears what was missed, and everything when that cannot be known", async () => {
    await aReading("reef", 25, 10);
    const first = await open();
    await first.ears.next();
    await aReading("kelp", 24, 20);
    expect(said(await first.ears.next())).toEqual(["kelp"]);
    expect(said(await (await open("?seq=15")).ears.next())).toEqual(["kelp"]);
    expect(said(await (await open("", { "last-event-id": "15" })).ears.next())).toEqual(["kelp"]);
    expect(said(await (await open("?seq=3")).ears.next()).toString()).toContain("reef");
  });

  test("silence is told although nothing was committed", async () => {
    await aReading("reef", 25);
    const { ears } = await open();
    await ears.next();
    api.now = NOW + HOUR;
    const heard = await ears.next();
    expect(heard).toMatchObject({
      event: { systems: [expect.objectContaining({ system: "reef", standing: "unknown" })] },
    });
  });

  test("a refused message moves the count", async () => {
    const { ears } = await open();
    await ears.next();
    const rejected = [{ topic: "a/b", reason: "no", sample: new Uint8Array(), bytes: 0, source: "g" }];
    await api.store.append({ now: NOW, readings: [], rejected, unclaimed: [] });
    expect(await ears.next()).toMatchObject({ event: { systems: [], counts: { rejected: 1 } } });
  });

  test("a stranger gets no stream", async () => {
    const request = new Request("http://localhost:3000/api/v1/live", {
      headers: { host: "localhost:3000", "sec-fetch-site": "cross-site" },
    });
    expect((await GET(request, { params: Promise.resolve({}) })).status).toBe(403);
  });
});

describe("one poller", () => {
  function hubOf() {
    const asked = { marks: 0, reads: 0, failures: 0 };
    const hub = createLiveHub({
      mark: () => {
        asked.marks += 1;
        return api.store.changeMark();
      },
      peopleMark: () => api.store.peopleMark(),
      read: async () => {
        asked.reads += 1;
        return { view: await readSystems(api.read), counts: { rejected: 0, unclaimed: 0 } };
      },
      failed: () => {
        asked.failures += 1;
      },
    });
    return { hub, asked };
  }
  const wait = (ms: number) => new Promise((done) => setTimeout(done, ms));
  const ALL: Reach = { sees: () => true, holds: async () => true };
  const ear = (ready = () => true, reach = ALL) => {
    const heard: LiveEvent[] = [];
    const state = { ended: false };
    const client: LiveClient = {
      reach,
      ready,
      send: (_seq, json) => heard.push(liveEvent.parse(JSON.parse(json))),
      end: () => {
        state.ended = true;
      },
    };
    return { client, heard, state };
  };

  test("ten listeners cost one reading of the states a change", async () => {
    const { hub, asked } = hubOf();
    const ears = Array.from({ length: 10 }, () => ear());
    const joined = await Promise.all(ears.map(({ client }) => hub.join(client, null)));
    const before = asked.reads;
    await aReading("reef", 26, 2);
    await expect
      .poll(() => ears.every(({ heard }) => heard.at(-1)?.systems[0]?.system === "reef"))
      .toBe(true);
    await wait(400);
    expect(asked.reads - before).toBeLessThanOrEqual(3);
    for (const { heard } of ears) expect(heard.at(-1)?.systems[0]).toMatchObject({ system: "reef" });
    for (const one of joined) one.leave();
  });

  test("a listener hears only of the systems that are theirs to see", async () => {
    const { hub } = hubOf();
    const narrow = ear(undefined, { ...ALL, sees: (code) => code === "kelp" });
    const { leave } = await hub.join(narrow.client, null);
    await aReading("reef", 26, 2);
    await aReading("kelp", 26, 3);
    const codes = () => narrow.heard.flatMap((event) => event.systems.map((row) => row.system));
    await expect.poll(codes).toContain("kelp");
    expect(new Set(codes())).toEqual(new Set(["kelp"]));
    leave();
  });

  test("a listener whose rights changed is let go at once, the others stay", async () => {
    const { hub } = hubOf();
    let holds = true;
    const leaver = ear(undefined, { ...ALL, holds: async () => holds });
    const stayer = ear();
    await hub.join(leaver.client, null);
    const { leave } = await hub.join(stayer.client, null);
    await aReading("reef", 25, 2);
    await wait(300);
    expect(leaver.state.ended).toBe(false);
    holds = false;
    const auth = { hash: async () => "not used here" };
    await makePerson(api.store, auth, "viewer");
    await wait(300);
    expect([leaver.state.ended, stayer.state.ended, hub.listeners()]).toEqual([true, false, 1]);
    leave();
  });

  test("nobody listening, nothing is asked", async () => {
    const { hub, asked } = hubOf();
    const { leave } = await hub.join(ear().client, null);
    leave();
    expect(hub.listeners()).toBe(0);
    const before = asked.marks;
    await wait(350);
    expect(asked.marks).toBe(before);
  });

  test("a slow listener is told later, once, and the newest", async () => {
    const { hub } = hubOf();
    let isReady = true;
    const slow = ear(() => isReady);
    const { leave, resume } = await hub.join(slow.client, null);
    isReady = false;
    for (const [i, value] of [25, 26, 27].entries()) {
      await aReading("reef", value, i + 2);
      await wait(150);
    }
    expect(slow.heard).toHaveLength(1);
    isReady = true;
    resume();
    expect(slow.heard).toHaveLength(2);
    expect(slow.heard[1]?.systems).toMatchObject([{ system: "reef", streams: [{ value: 27 }] }]);
    leave();
  });

  test("a store that stops answering ends the streams instead of letting them look calm", async () => {
    const { hub, asked } = hubOf();
    const { client, state } = ear();
    await hub.join(client, null);
    await api.store.close();
    await wait(300);
    expect(state.ended).toBe(true);
    expect(asked.failures).toBe(1);
    expect(hub.listeners()).toBe(0);
  });

  test("leaving by abort or by cancel stops the listener", async () => {
    const { hub } = hubOf();
    const stop = new AbortController();
    await liveStream(hub, null, stop.signal, ALL);
    const cancelled = await liveStream(hub, null, new AbortController().signal, ALL);
    expect(hub.listeners()).toBe(2);
    stop.abort();
    expect(hub.listeners()).toBe(1);
    await cancelled.cancel();
    expect(hub.listeners()).toBe(0);
    const before = new AbortController();
    before.abort();
    await liveStream(hub, null, before.signal, ALL);
    expect(hub.listeners()).toBe(0);
  });
});
