import { createStore, del, set, values } from "idb-keyval";
import type { WaitingEntry } from "../core/question/waiting-entry.ts";
import type { WaitingEntries } from "./waiting.ts";

const DATABASE = "seepwise";

/** What waits, in the browser's own database; a device on which nothing was written has none. */
export function waitingStore(): WaitingEntries {
  let opened: ReturnType<typeof createStore> | undefined;
  const store = () => (opened ??= createStore(DATABASE, "waiting"));
  const isThere = async () =>
    opened !== undefined || (await indexedDB.databases()).some(({ name }) => name === DATABASE);
  return {
    all: async () => {
      if (!(await isThere())) return [];
      const entries = await values<WaitingEntry>(store());
      return entries.toSorted((a, b) => a.written_at.localeCompare(b.written_at));
    },
    put: (entry) => set(entry.key, entry, store()),
    remove: async (key) => {
      if (await isThere()) await del(key, store());
    },
  };
}
