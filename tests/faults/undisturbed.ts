/** What is claimed of a record's water when nothing happens to the processes: what a run with kills is held against. */
import { createAcceptor } from "#services/gateway/accept-message.ts";
import type { Store } from "#store/port.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "../helpers/evaluated.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { type Cell, INTERVAL_MS, type SondeRecord } from "./sonde-record.ts";
import { SITE, setUpSondes } from "./sonde-site.ts";

async function claimsOfBatches(batches: Iterable<readonly Cell[]>, between: Between): Promise<unknown> {
  const { store, dispose } = await temporaryStore();
  try {
    await setUpSondes(store, { now: Date.now(), intervalMs: INTERVAL_MS, critical: false });
    const acceptor = createAcceptor({ store, clock: Date.now });
    for (const batch of batches) {
      await acceptor.acceptBatch(Date.now(), batch.map(messageOf));
      await between(store);
    }
    await evaluateAll(await evaluatorOf(store));
    return await claimsOf(store);
  } finally {
    await dispose();
  }
}
type Between = (store: Store) => Promise<void>;

const messageOf = ({ system, quantity, at, value }: Cell) => ({
  topic: `homewater/${SITE}/${system}/display/${quantity}`,
  payload: Buffer.from(JSON.stringify({ at, value, history: true })),
  client: "undisturbed",
  dup: false,
  retain: false,
  qos: 1,
});

/** Every instant of the record in one commit, judged at the end. */
export async function claimsUndisturbed(record: SondeRecord): Promise<unknown> {
  const byInstant = new Map<number, Cell[]>();
  for (const cell of record.cells) {
    const cells = byInstant.get(cell.at);
    if (cells) cells.push(cell);
    else byInstant.set(cell.at, [cell]);
  }
  return await claimsOfBatches(byInstant.values(), async () => {});
}

/** The same cells in commits of any size, one probe after the other within each third of the record, judged now and then in between. */
export async function claimsInOtherBatches(record: SondeRecord, random: () => number): Promise<unknown> {
  const third = Math.ceil(record.cells.length / 3);
  const order = record.cells
    .map((cell, index) => ({ cell, key: `${Math.floor(index / third)} ${cell.quantity} ${cell.system}` }))
    .sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : a.cell.at - b.cell.at))
    .map(({ cell }) => cell);
  function* batches() {
    for (let start = 0; start < order.length; ) {
      const size = 1 + Math.floor(random() ** 3 * 1_500);
      yield order.slice(start, start + size);
      start += size;
    }
  }
  return await claimsOfBatches(batches(), async (store) => {
    if (random() > 0.2) return;
    const evaluator = await evaluatorOf(store);
    for (let pass = random() * 4; pass > 0; pass--) await evaluator.pass({ hurry: random() < 0.5 });
  });
}
