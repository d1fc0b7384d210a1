/** A page as it was rendered, with places for the key that each copy of it needs anew. */
interface KeptPage {
  stamp: string;
  parts: readonly string[];
}

/** Pages in memory: about 100 kB each. */
const MOST_PAGES = 128;

/**
 * The latest pages of vehicles, each good for as long as its stamp is what the records say. Its forms carry a key that
 * no two copies may share, so a page is made with a stand-in for the key and kept without it.
 */
export class PageCache {
  readonly #pages = new Map<string, KeptPage>();

  /** The kept page for `key`, or the one that `render` makes, with `submit_key` in its forms. */
  async page(
    key: string,
    stamp: string,
    submit_key: string,
    render: (submit_key: string) => Promise<string>,
  ): Promise<string> {
    let kept = this.#pages.get(key);
    if (kept?.stamp !== stamp) {
      // Random, as every key: what someone wrote cannot be taken for it.
      kept = { stamp, parts: (await render(submit_key)).split(submit_key) };
    }
    this.#keep(key, kept);
    return kept.parts.join(submit_key);
  }

  /** What was asked for last goes last. */
  #keep(key: string, page: KeptPage): void {
    this.#pages.delete(key);
    this.#pages.set(key, page);
    if (this.#pages.size <= MOST_PAGES) return;
    const [oldest] = this.#pages.keys();
    if (oldest !== undefined) this.#pages.delete(oldest);
  }
}
