import type { Logger } from "pino";
import type { Instant } from "#core/time/instant.ts";
import type { Acceptor } from "#services/gateway/accept-message.ts";
import type { Store } from "#store/port.ts";

const LOOK_EVERY_MS = 1_000;
/** How often sites are read again, in looks. */
const SITES_EVERY = 30;

/**
 * Keeps `homewater/<site>/status` true, retained: `up` (readings are stored), `not storing` (the store refuses; nothing is
 * acknowledged; `trouble` says why) or `down`. Published when it changes.
 */
export function keepStatus(options: {
  readonly edge: { publishStatus(site: string, state: object): Promise<void> };
  readonly store: Store;
  readonly acceptor: Acceptor;
  readonly clock: () => Instant;
  readonly log: Logger;
}): { stop(): Promise<void> } {
  const { edge, store, acceptor, clock, log } = options;
  const published = new Map<string, string>();
  let sites: readonly string[] = [];
  let looks = 0;

  async function publish(state: string, trouble: string | null): Promise<void> {
    for (const site of sites) {
      const now = JSON.stringify([state, trouble]);
      if (published.get(site) === now) continue;
      await edge.publishStatus(site, { state, trouble, since: new Date(clock()).toISOString() });
      published.set(site, now);
    }
  }
  async function look(): Promise<void> {
    if (looks % SITES_EVERY === 0) sites = (await store.readSetUp()).sites.map((site) => site.code);
    looks += 1;
    const { trouble } = acceptor.counts();
    await publish(trouble === null ? "up" : "not storing", trouble);
  }

  let looking = Promise.resolve();
  const lookAgain = () => {
    looking = looking.then(look).catch((error: Error) => {
      log.warn({ trouble: error.message }, "could not publish the status");
    });
  };
  lookAgain();
  const timer = setInterval(lookAgain, LOOK_EVERY_MS);
  return {
    async stop() {
      clearInterval(timer);
      await looking;
      await publish("down", null).catch((error: Error) => {
        log.warn({ trouble: error.message }, "could not publish the status");
      });
    },
  };
}
