import type { Context } from "hono";
import type { JSX } from "hono/jsx/jsx-runtime";
import type { ContentfulStatusCode } from "hono/utils/http-status";
import type { Workspace } from "../../store/workspaces.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import type { GrantedEnv } from "./access.ts";
import { calendarDay } from "./calendar-day.ts";
import type { AppEnv, Deps } from "./deps.ts";
import { KeptFacts } from "./kept-facts.ts";
import { pageText } from "./page.ts";
import { KeptPages } from "./page-cache.ts";
import { personOf } from "./person.ts";

/** Bytes for the pages that are for everyone, and for those of all workspaces in a process. */
const SHARED_BYTES = 32 * 1024 * 1024;
const OWN_BYTES = 32 * 1024 * 1024;

/** The caches of an application: however many routes keep pages, they share the room that there is. */
const caches = new WeakMap<Deps, { shared: KeptPages; own: KeptPages }>();

function cachesOf(deps: Deps): { shared: KeptPages; own: KeptPages } {
  let found = caches.get(deps);
  if (found === undefined) {
    found = { shared: new KeptPages(SHARED_BYTES, deps.packPage), own: new KeptPages(OWN_BYTES, deps.packPage) };
    caches.set(deps, found);
  }
  return found;
}

/** Where pages of the records that this request is about are kept. */
export function ownPages(deps: Deps, c: Context): KeptPages {
  return deps.ownPages?.(c) ?? cachesOf(deps).own;
}

/** The path and the query of the address, as it was written. */
export function addressOf(c: Context): string {
  const { url } = c.req;
  return url.slice(url.indexOf("/", url.indexOf("//") + 2));
}

/** What each workspace is set to. */
const settings = new KeptFacts((store) => store.settings.get());

/** What to give as `of` for pages without prices. */
export const FOR_ALL = "";

/**
 * Pages that depend on nothing but the address, the day, whom the pages are for, and `of` (whose prices are in them):
 * made once, then answered from memory. `make` is given the key for the forms of this copy.
 *
 * @example
 * const shared = sharedPages(deps);
 * app.get("/method", (c) => shared(c, FOR_ALL, () => ({ view: MethodPage({ asset: deps.asset }), status: 200 })));
 */
export function sharedPages(deps: Deps) {
  const pages = cachesOf(deps).shared;
  const newKey = () => newSubmitKey(deps.random);
  return function answerShared(
    c: Context,
    of: string,
    make: (
      submit_key: string,
    ) =>
      | { view: JSX.Element; status: ContentfulStatusCode }
      | Promise<{ view: JSX.Element; status: ContentfulStatusCode }>,
  ): Promise<Response> {
    const person = personOf(c);
    const key = `${of} ${person}${addressOf(c)}`;
    return pages.answer(c, { key, stamp: deps.today(c), newKey }, async (submit_key) => {
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
  const newKey = () => newSubmitKey(deps.random);
  return async function answerOfWorkspace(
    c: Context<AppEnv & GrantedEnv>,
    make: (workspace: Workspace, submit_key: string) => Promise<JSX.Element>,
  ): Promise<Response> {
    const store = c.get("store");
    const pages = ownPages(deps, c);
    const person = personOf(c);
    // Before anything is read: what is changed meanwhile has another stamp.
    const stamp = await store.stamp();
    const workspace = await settings.of(pages, store, stamp);
    const render = async (submit_key: string) => ({
      text: await pageText(await make(workspace, submit_key), person),
      status: 200 as const,
    });
    if (stamp === null) return c.html((await render(newKey())).text);
    const key = `${store.workspaceId}/${c.get("access").role}/${person}${addressOf(c)}`;
    const today = calendarDay(deps.now(), workspace.time_zone);
    return pages.answer(c, { key, stamp: `${stamp} ${today}`, newKey }, render);
  };
}
