import type { Context } from "hono";
import { parseAccept } from "hono/utils/accept";
import { encodeBase64Url } from "hono/utils/encode";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import { wholeAnswer } from "./whole-answer.ts";

/** A page as it was rendered, cut where each copy gets its own submit key. */
interface KeptPage {
  stamp: string;
  status: ContentfulStatusCode;
  pieces: readonly Uint8Array<ArrayBuffer>[];
  /** Compressed, once somebody has asked for it so. */
  packed: PackedPage | null;
  /** The entity tag of a page that is the same for everyone; null where each copy has its own key. */
  etag: string | null;
  bytes: number;
}

export interface RenderedPage {
  text: string;
  status: ContentfulStatusCode;
}

/** A page compressed with gzip, but for its key. */
export interface PackedPage {
  bytes: number;
  withKey(key: string): Uint8Array<ArrayBuffer>;
}

/** Compresses a page whose pieces have a key between them. */
export type PackPage = (pieces: readonly Uint8Array<ArrayBuffer>[]) => Promise<PackedPage>;

const MOST_BYTES_OF_ONE = 1024 * 1024;
/** The longest address that is kept: anyone can make up long ones. */
const LONGEST_KEY = 4096;

/**
 * The latest pages, each good for as long as its stamp is what it would be made from. Forms carry a key that no two
 * copies may share, so a page is kept without it. Pages are kept as they are sent, because turning that much text into
 * bytes, and compressing it, takes longer than all the rest of answering.
 */
export class KeptPages {
  readonly #pages = new Map<string, KeptPage>();
  readonly #being_made = new Map<string, Promise<unknown>>();
  readonly #most_bytes: number;
  readonly #pack: PackPage | null;
  #bytes = 0;

  /** At most `most_bytes` in all. With `pack` pages are kept compressed, too, where nothing else compresses them. */
  constructor(most_bytes: number, pack: PackPage | null = null) {
    this.#most_bytes = most_bytes;
    this.#pack = pack;
  }

  /**
   * Answers with the kept page for `key`, or with the one that `render` makes with a fresh `submit_key` in its forms.
   * What several ask for at once is made once.
   */
  async answer(
    c: Context,
    { key, stamp, newKey }: { key: string; stamp: string; newKey: () => string },
    render: (submit_key: string) => Promise<RenderedPage>,
  ): Promise<Response> {
    let page = this.#pages.get(key);
    if (page?.stamp !== stamp) page = await this.#made(key, stamp, newKey, render);
    this.#keep(key, page);
    const { etag, status, pieces } = page;
    if (etag !== null && status === 200) {
      // Weak comparison, as RFC 9110, 13.1.2 has it: a compressed page has a weak tag.
      const known = (c.req.header("If-None-Match") ?? "").split(",").map((tag) => tag.trim().replace(/^W\//, ""));
      if (known.includes(etag)) return wholeAnswer(c, null, 304, { ETag: etag });
    }
    const submit_key = pieces.length === 1 ? "" : newKey();
    const tag = etag !== null && status === 200 ? etag : null;
    if (this.#pack === null || !takesGzip(c.req.header("Accept-Encoding")))
      return wholeAnswer(c, joined(pieces, submit_key), status, { ...HTML, ...(tag === null ? {} : { ETag: tag }) });
    if (page.packed === null) {
      page.packed = await this.#pack(pieces);
      page.bytes += page.packed.bytes;
      if (this.#pages.get(key) === page) this.#bytes += page.packed.bytes;
      this.#makeRoom();
    }
    return wholeAnswer(c, page.packed.withKey(submit_key), status, {
      ...PACKED,
      ...(tag === null ? {} : { ETag: `W/${tag}` }),
    });
  }

  async #made(
    key: string,
    stamp: string,
    newKey: () => string,
    render: (submit_key: string) => Promise<RenderedPage>,
  ): Promise<KeptPage> {
    const place = `${stamp} ${key}`;
    const waited_for = this.#being_made.get(place);
    if (waited_for !== undefined) {
      // The other request may have failed for a reason of its own, like a limit.
      await waited_for.catch(() => {});
      const page = this.#pages.get(key);
      if (page?.stamp === stamp) return page;
    }
    const submit_key = newKey();
    const making = render(submit_key).then(async (rendered) => {
      const page = await inPieces(stamp, rendered, submit_key);
      this.#keep(key, page);
      return page;
    });
    this.#being_made.set(place, making);
    try {
      return await making;
    } finally {
      if (this.#being_made.get(place) === making) this.#being_made.delete(place);
    }
  }

  /** Moves the page to the end, and drops the least recently used pages until the rest fits. */
  #keep(key: string, page: KeptPage): void {
    this.#drop(key);
    if (key.length > LONGEST_KEY || page.bytes > MOST_BYTES_OF_ONE) return;
    this.#pages.set(key, page);
    this.#bytes += page.bytes;
    this.#makeRoom();
  }

  #makeRoom(): void {
    for (const oldest of this.#pages.keys()) {
      if (this.#bytes <= this.#most_bytes) break;
      this.#drop(oldest);
    }
  }

  #drop(key: string): void {
    const page = this.#pages.get(key);
    if (page === undefined) return;
    this.#pages.delete(key);
    this.#bytes -= page.bytes;
  }
}

const encoder = new TextEncoder();
const HTML = { "Content-Type": "text/html; charset=UTF-8" } as const;
const PACKED = { ...HTML, "Content-Encoding": "gzip" } as const;

/** Browsers send one of a few values; made-up ones are not remembered without end. */
const said_encodings = new Map<string, boolean>();
const REMEMBERED = 100;

function takesGzip(accept: string | undefined): boolean {
  if (accept === undefined) return false;
  let takes = said_encodings.get(accept);
  if (takes === undefined) {
    const said = parseAccept(accept.slice(0, 200));
    takes = ((said.find(({ type }) => type === "gzip") ?? said.find(({ type }) => type === "*"))?.q ?? 0) > 0;
    if (said_encodings.size >= REMEMBERED) said_encodings.clear();
    said_encodings.set(accept, takes);
  }
  return takes;
}

async function inPieces(stamp: string, { text, status }: RenderedPage, submit_key: string): Promise<KeptPage> {
  // Random like every key, so that no text on the page can be mistaken for it.
  const pieces = text.split(submit_key).map((piece) => encoder.encode(piece));
  const bytes = pieces.reduce((sum, { length }) => sum + length, 0);
  return { stamp, status, pieces, packed: null, etag: pieces.length === 1 ? await etagOf(pieces[0]!) : null, bytes };
}

async function etagOf(page: Uint8Array<ArrayBuffer>): Promise<string> {
  return `"${encodeBase64Url(await crypto.subtle.digest("SHA-256", page)).replaceAll("=", "")}"`;
}

function joined(pieces: readonly Uint8Array<ArrayBuffer>[], submit_key: string): Uint8Array<ArrayBuffer> {
  if (pieces.length === 1) return pieces[0]!;
  const key = encoder.encode(submit_key);
  const page = new Uint8Array(pieces.reduce((sum, { length }) => sum + length, (pieces.length - 1) * key.length));
  let at = 0;
  pieces.forEach((piece, i) => {
    if (i > 0) {
      page.set(key, at);
      at += key.length;
    }
    page.set(piece, at);
    at += piece.length;
  });
  return page;
}
