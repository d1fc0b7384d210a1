/** A page as it was rendered, in pieces between which the key stands that each copy of it needs anew. */
interface KeptPage {
  stamp: string;
  pieces: readonly Uint8Array<ArrayBuffer>[];
}

/** Pages in memory: a few hundred kilobytes each at most. */
const MOST_PAGES = 128;

/**
 * The latest pages of vehicles, each good for as long as its stamp is what the records say. Its forms carry a key that
 * no two copies may share, so a page is kept without it. Pages are kept as they are sent, because turning that much text
 * into bytes takes longer than all the rest of answering.
 */
export class PageCache {
  readonly #pages = new Map<string, KeptPage>();

  /** The kept page for `key`, or the one that `render` makes, as UTF-8 with `submit_key` (ASCII, and random) in its forms. */
  async page(
    key: string,
    stamp: string,
    submit_key: string,
    render: (submit_key: string) => Promise<string>,
  ): Promise<Uint8Array<ArrayBuffer>> {
    let kept = this.#pages.get(key);
    if (kept?.stamp !== stamp) kept = inPieces(stamp, await render(submit_key), submit_key);
    this.#keep(key, kept);
    return joined(kept, submit_key);
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

function inPieces(stamp: string, page: string, submit_key: string): KeptPage {
  const encoder = new TextEncoder();
  // Random, as every key is: what someone wrote cannot be taken for it.
  const pieces = page.split(submit_key).map((piece) => encoder.encode(piece));
  return { stamp, pieces };
}

async function joined({ pieces }: KeptPage, submit_key: string): Promise<Uint8Array<ArrayBuffer>> {
  const parts = pieces.flatMap((piece, i) => (i === 0 ? [piece] : [submit_key, piece]));
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}
