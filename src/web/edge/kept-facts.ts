import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { KeptPages } from "./page-cache.ts";

/** Workspaces whose facts are remembered in one place. */
const REMEMBERED = 1000;

/**
 * What is read of a workspace's records for every page of it, good for as long as none of them is changed; read anew
 * each time where the database cannot tell that. Kept where the pages of these records are, since a stamp says nothing
 * elsewhere.
 */
export class KeptFacts<Facts> {
  readonly #read: (store: WorkspaceStore) => Promise<Facts>;
  readonly #places = new WeakMap<KeptPages, Map<string, { stamp: string; facts: Facts }>>();

  constructor(read: (store: WorkspaceStore) => Promise<Facts>) {
    this.#read = read;
  }

  /** `stamp` is what `store.stamp` gave before anything else was read; `place`: where pages of `store` are kept. */
  async of(place: KeptPages, store: WorkspaceStore, stamp: string | null): Promise<Facts> {
    if (stamp === null) return this.#read(store);
    let kept = this.#places.get(place);
    if (kept === undefined) {
      kept = new Map();
      this.#places.set(place, kept);
    }
    const known = kept.get(store.workspaceId);
    if (known?.stamp === stamp) return known.facts;
    const facts = await this.#read(store);
    kept.delete(store.workspaceId);
    if (kept.size >= REMEMBERED) kept.delete(kept.keys().next().value!);
    kept.set(store.workspaceId, { stamp, facts });
    return facts;
  }
}
