import type { BenchRequestBody, Draft } from "./draft.ts";

/** A test that was saved here and is not stored on the server yet. */
export interface Waiting {
  readonly clientId: string;
  readonly by: string;
  readonly systemName: string;
  readonly zone: string;
  readonly body: BenchRequestBody;
  /** To open it again where the server refuses it. */
  readonly draft: Draft;
  readonly savedAt: number;
  /** Why the server refused it; null while it only waits. */
  readonly refused: string | null;
}

/** What this device keeps: drafts by person and system, and tests that wait to be sent. */
export interface DeviceStore {
  /** False where the browser refuses to keep anything: then it holds until the page is closed, which is said. */
  readonly lasts: boolean;
  readDraft(by: string, system: string): Promise<Draft | null>;
  keepDraft(draft: Draft): Promise<void>;
  dropDraft(by: string, system: string): Promise<void>;
  readWaiting(): Promise<readonly Waiting[]>;
  keepWaiting(waiting: Waiting): Promise<void>;
  dropWaiting(clientId: string): Promise<void>;
  /** The draft becomes a waiting test, in one step: never both, never neither. */
  save(waiting: Waiting): Promise<void>;
  /** The other way round, to change what the server refused. */
  reopen(waiting: Waiting): Promise<void>;
}

const NAME = "homewater-bench";
const draftKey = (by: string, system: string) => `${by}\n${system}`;
const keyOf = ({ by, system }: Draft) => draftKey(by, system);

const settled = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the browser's store refused"));
  });

function open(): Promise<IDBDatabase> {
  const request = indexedDB.open(NAME, 1);
  request.onupgradeneeded = () => {
    request.result.createObjectStore("drafts");
    request.result.createObjectStore("waiting", { keyPath: "clientId" });
  };
  return settled(request);
}

interface Stores {
  readonly drafts: IDBObjectStore;
  readonly waiting: IDBObjectStore;
}
/** Resolves when the change is on the device, not when it is only asked for; all of it or nothing. */
function change(database: IDBDatabase, what: (stores: Stores) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(["drafts", "waiting"], "readwrite", { durability: "strict" });
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error("the browser's store gave up"));
    what({ drafts: transaction.objectStore("drafts"), waiting: transaction.objectStore("waiting") });
  });
}

function lasting(database: IDBDatabase): DeviceStore {
  const read = (name: string) => database.transaction(name).objectStore(name);
  return {
    lasts: true,
    readDraft: async (by, system) =>
      ((await settled(read("drafts").get(draftKey(by, system)))) as Draft | undefined) ?? null,
    keepDraft: (draft) => change(database, ({ drafts }) => drafts.put(draft, keyOf(draft))),
    dropDraft: (by, system) => change(database, ({ drafts }) => drafts.delete(draftKey(by, system))),
    readWaiting: async () =>
      ((await settled(read("waiting").getAll())) as Waiting[]).sort((a, b) => a.savedAt - b.savedAt),
    keepWaiting: (one) => change(database, ({ waiting }) => waiting.put(one)),
    dropWaiting: (clientId) => change(database, ({ waiting }) => waiting.delete(clientId)),
    save: (one) =>
      change(database, ({ drafts, waiting }) => {
        waiting.put(one);
        drafts.delete(keyOf(one.draft));
      }),
    reopen: (one) =>
      change(database, ({ drafts, waiting }) => {
        drafts.put(one.draft, keyOf(one.draft));
        waiting.delete(one.clientId);
      }),
  };
}

function fleeting(): DeviceStore {
  const drafts = new Map<string, Draft>();
  const waiting = new Map<string, Waiting>();
  return {
    lasts: false,
    readDraft: async (by, system) => drafts.get(draftKey(by, system)) ?? null,
    keepDraft: async (draft) => void drafts.set(keyOf(draft), draft),
    dropDraft: async (by, system) => void drafts.delete(draftKey(by, system)),
    readWaiting: async () => [...waiting.values()],
    keepWaiting: async (one) => void waiting.set(one.clientId, one),
    dropWaiting: async (clientId) => void waiting.delete(clientId),
    save: async (one) => {
      waiting.set(one.clientId, one);
      drafts.delete(keyOf(one.draft));
    },
    reopen: async (one) => {
      drafts.set(keyOf(one.draft), one.draft);
      waiting.delete(one.clientId);
    },
  };
}

let opened: Promise<DeviceStore> | undefined;
/** The device's store, opened once a page. Where the browser has none (some private windows) what is typed lives as long as the page. */
export function kept(): Promise<DeviceStore> {
  opened ??= (async () => {
    try {
      return lasting(await open());
    } catch (refused) {
      console.info(`This browser keeps nothing: ${String(refused)}`);
      return fleeting();
    }
  })();
  return opened;
}
