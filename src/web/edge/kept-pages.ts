import type { Context } from "hono";
import type { JSX } from "hono/jsx/jsx-runtime";
import { encodeBase64Url } from "hono/utils/encode";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import type { Workspace } from "../../store/workspaces.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import type { GrantedEnv } from "./access.ts";
import { calendarDay } from "./calendar-day.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { pageText } from "./page.ts";
import { personOf } from "./person.ts";

/** A page as it was rendered, in pieces between which the key stands that each copy of it needs anew. */
interface KeptPage {
  stamp: string;
  status: ContentfulStatusCode;
  pieces: readonly Uint8Array<ArrayBuffer>[];
  /** The entity tag of a page that is the same for everyone; null where each copy has its own key. */
  etag: string | null;
  bytes: number;
}

export interface RenderedPage {
  text: string;
  status: ContentfulStatusCode;
}

/** Bytes for all pages of one cache, and for a single page. */
const MOST_BYTES = 32 * 1024 * 1024;
const MOST_BYTES_OF_ONE = 1024 * 1024;
/** The longest address that is kept: anyone can make up long ones. */
const LONGEST_KEY = 4096;

/**
 * The latest pages, each good for as long as its stamp is what it would be made from. Forms carry a key that no two
 * copies may share, so a page is kept without it. Pages are kept as they are sent, because turning that much text into
 * bytes takes longer than all the rest of answering.
 */
export class KeptPages {
  readonly #pages = new Map<string, KeptPage>();
  readonly #most_bytes: number;
  #bytes = 0;

  constructor(most_bytes = MOST_BYTES) {
    this.#most_bytes = most_bytes;
  }

  /**
   * Answers with the kept page for `key`, or with the one that `render` makes with a fresh `submit_key` in its forms.
   */
  async answer(
    c: Context,
    { key, stamp, submit_key }: { key: string; stamp: string; submit_key: string },
    render: (submit_key: string) => Promise<RenderedPage>,
  ): Promise<Response> {
    let page = this.#pages.get(key);
    if (page?.stamp !== stamp) page = await inPieces(stamp, await render(submit_key), submit_key);
    this.#keep(key, page);
    const { etag, status } = page;
    const headers: Record<string, string> = { "Content-Type": "text/html; charset=UTF-8" };
    if (etag !== null && status === 200) {
      headers.ETag = etag;
      // Weak comparison, as RFC 9110, 13.1.2 has it: what compresses on the way may have made the tag weak.
      const known = (c.req.header("If-None-Match") ?? "").split(",").map((tag) => tag.trim().replace(/^W\//, ""));
      if (known.includes(etag)) return c.body(null, 304, { ETag: etag });
    }
    return c.body(await joined(page, submit_key), status, headers);
  }

  /** Moves the page to the end, and drops the least recently used pages until the rest fits. */
  #keep(key: string, page: KeptPage): void {
    this.#drop(key);
    if (key.length > LONGEST_KEY || page.bytes > MOST_BYTES_OF_ONE) return;
    this.#pages.set(key, page);
    this.#bytes += page.bytes;
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

/**
 * Pages that depend on nothing but the address, the day, whom the pages are for, and `of` (whose prices are in them):
 * made once, then answered from memory. `make` is given the key for the forms of this copy.
 *
 * @example
 * const shared = sharedPages(deps);
 * app.get("/method", (c) => shared(c, FOR_ALL, () => ({ view: MethodPage({ asset: deps.asset }), status: 200 })));
 */
export const FOR_ALL = "";

export function sharedPages(deps: Deps) {
  const pages = new KeptPages();
  return function answerShared(
    c: Context,
    of: string,
    make: (
      submit_key: string,
    ) =>
      | { view: JSX.Element; status: ContentfulStatusCode }
      | Promise<{ view: JSX.Element; status: ContentfulStatusCode }>,
  ): Promise<Response> {
    const { pathname, search } = new URL(c.req.url);
    const person = personOf(c);
    const key = `${of} ${person}${pathname}${search}`;
    return pages.answer(c, { key, stamp: deps.today(c), submit_key: newSubmitKey(deps.random) }, async (submit_key) => {
      const { view, status } = await make(submit_key);
      return { text: await pageText(view, person), status };
    });
  };
}

/**
 * Pages of a workspace's records that depend on nothing else but the address, the day there, and who sees them: made
 * once, then answered from memory for as long as nothing is changed in that workspace. Where the database cannot tell
 * that, each is made anew.
 */
export function workspacePages(deps: Deps) {
  const pages = new KeptPages(MOST_BYTES / 4);
  return async function answerOfWorkspace(
    c: Context<AppEnv & GrantedEnv>,
    make: (workspace: Workspace, submit_key: string) => Promise<JSX.Element>,
  ): Promise<Response> {
    const { store, access } = c.var;
    const person = personOf(c);
    const submit_key = newSubmitKey(deps.random);
    // Before anything is read: what is changed meanwhile has another stamp.
    const stamp = await store.stamp();
    const workspace = await store.settings.get();
    const render = async (submit_key: string) => ({
      text: await pageText(await make(workspace, submit_key), person),
      status: 200 as const,
    });
    if (stamp === null) return c.html((await render(submit_key)).text);
    const { pathname, search } = new URL(c.req.url);
    const key = `${store.workspaceId}/${access.role}/${person}${pathname}${search}`;
    const today = calendarDay(deps.now(), workspace.time_zone);
    return pages.answer(c, { key, stamp: `${stamp} ${today}`, submit_key }, render);
  };
}

async function inPieces(stamp: string, { text, status }: RenderedPage, submit_key: string): Promise<KeptPage> {
  const encoder = new TextEncoder();
  // Random like every key, so that no text on the page can be mistaken for it.
  const pieces = text.split(submit_key).map((piece) => encoder.encode(piece));
  const bytes = pieces.reduce((sum, { length }) => sum + length, 0);
  return { stamp, status, pieces, etag: pieces.length === 1 ? await etagOf(pieces[0]!) : null, bytes };
}

async function etagOf(page: Uint8Array<ArrayBuffer>): Promise<string> {
  return `"${encodeBase64Url(await crypto.subtle.digest("SHA-256", page)).replaceAll("=", "")}"`;
}

async function joined({ pieces }: KeptPage, submit_key: string): Promise<Uint8Array<ArrayBuffer>> {
  if (pieces.length === 1) return pieces[0]!;
  const parts = pieces.flatMap((piece, i) => (i === 0 ? [piece] : [submit_key, piece]));
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}
