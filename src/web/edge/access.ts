import type { Context, MiddlewareHandler } from "hono";
import { deleteCookie, getCookie, setCookie } from "hono/cookie";
import { Problem } from "../../core/problem.ts";
import {
  type Access,
  accessOfKey,
  accessOfSession,
  endSession,
  exchangeLink,
  linkPreview,
  SESSION_DAYS,
} from "../../store/access.ts";
import { eraseWorkspace } from "../../store/erase-workspace.ts";
import { forbidden } from "../../store/errors.ts";
import { mayAct, type Role } from "../../store/roles.ts";
import { type WorkspaceStore, workspaceStore } from "../../store/workspace-store.ts";
import { createWorkspace, ensureLocalWorkspace, LOCAL_WORKSPACE, type Settings } from "../../store/workspaces.ts";
import type { AppEnv, Deps, Visitor } from "./deps.ts";
import { bodyBytes } from "./limits.ts";
import { limitedAs, type RateLimits } from "./rate-limit.ts";
import { needsRoom } from "./room.ts";
import { addsHeaders } from "./whole-answer.ts";

/** What a route behind `requireRole` has in `c.var`. */
export interface GrantedEnv {
  Variables: { visit: Visitor; access: Access; store: WorkspaceStore };
}

const LOCAL_OWNER: Access = { workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local" };

const COOKIE = "seepwise";
/** The name of the cookie as browsers send it. */
export const SESSION_COOKIE = `__Host-${COOKIE}`;
const COOKIE_OPTIONS = { prefix: "host", path: "/", secure: true, httpOnly: true, sameSite: "Lax" } as const;

const SAFE_METHODS: ReadonlySet<string> = new Set(["GET", "HEAD", "OPTIONS"]);

/**
 * Puts a `Visitor` into `c.var.visit`. It costs nothing until a route asks for it. What would change something is
 * counted, by address and by key, and needs room. Throws `Problem` too-many when too much comes from there, no-room
 * when too much is kept already.
 */
export function accessMiddleware(deps: Deps): MiddlewareHandler<AppEnv> {
  return async function access(c, next) {
    const changes = !SAFE_METHODS.has(c.req.method);
    if (changes) await takeFrom(c, deps, "changes");
    const lookUp = async (): Promise<Access | null> => {
      if (deps.access_mode === "local") return LOCAL_OWNER;
      const access = await accessOfRequest(c, deps);
      if (changes && access !== null) {
        await takeFrom(c, deps, "changes", keyOf(access));
        if (needsRoom(c.req.method, c.req.path)) await deps.room(c)?.take(access.workspaceId, bodyBytes(c));
      }
      return access;
    };
    let found: Promise<Access | null> | undefined;
    c.set("visit", {
      access: () => {
        found ??= lookUp();
        return found;
      },
      store: (access) => storeFor(c, deps, access),
    });
    await next();
  };
}

/**
 * Lets a request through to the route when it may do what `role` may, with `c.var.store` and `c.var.access` set.
 *
 *     app.post("/vehicles", requireRole("editor"), async (c) => c.var.store.vehicles.create(…));
 */
export function requireRole(role: Role): MiddlewareHandler<GrantedEnv> {
  return async function requireRole(c, next) {
    // Not `c.var`, which is put together anew each time.
    const visit = c.get("visit");
    const access = await visit.access();
    if (access === null)
      throw new Problem("sign-in-needed", "Open the access link that you were given, then come back to this page.");
    if (!mayAct(access.role, role)) throw forbidden(access.role, role);
    c.set("access", access);
    c.set("store", visit.store(access));
    await next();
  };
}

/** The records behind the key of a calendar feed, to be read only. Throws `Problem` not-found for any other key. */
export async function storeOfFeed(c: Context<AppEnv>, deps: Deps, key: string): Promise<WorkspaceStore> {
  const edge = { sql: deps.sql(c), now: deps.now };
  const access = await rateLimited(c, deps, () => accessOfKey(edge, key, "feed"));
  if (access === null) throw new Problem("not-found", "There is no calendar at this address, or its link was revoked.");
  return storeFor(c, deps, access);
}

/** What a link would open, without using it up. Throws `Problem` not-found when the link is no good any more. */
export async function lookAtLink(c: Context<AppEnv>, deps: Deps, key: string) {
  const preview = await rateLimited(c, deps, () => linkPreview({ sql: deps.sql(c), now: deps.now }, key));
  if (preview === null) throw spentLink();
  return preview;
}

/** Exchanges a link for a session of this browser. Throws `Problem` not-found when the link is no good any more. */
export async function signIn(c: Context<AppEnv>, deps: Deps, key: string): Promise<void> {
  if (!keepsSecureCookies(deps.origin(c)))
    throw new Problem(
      "forbidden",
      "This page came over plain HTTP, where a browser does not keep the access that a link gives. The link is still good: open it over HTTPS.",
    );
  const opened = await rateLimited(c, deps, () => openSession(c, deps, key));
  if (opened === null) throw spentLink();
}

/** Whether a browser accepts a `Secure` cookie from this origin: over HTTPS, or from its own machine. */
function keepsSecureCookies(origin: string): boolean {
  const { protocol, hostname } = new URL(origin);
  return protocol === "https:" || hostname === "localhost" || hostname === "[::1]" || hostname.startsWith("127.");
}

/** The session that this browser had before ends: its cookie is replaced, so nobody could end it any more. */
async function openSession(c: Context, deps: Deps, key: string): Promise<{ token: string } | null> {
  const edge = { sql: deps.sql(c), now: deps.now, random: deps.random };
  const token = await exchangeLink(edge, key);
  if (token === null) return null;
  const former = getCookie(c, COOKIE, "host");
  if (former !== undefined) await endSession(edge, former);
  setSessionCookie(c, token);
  return { token };
}

/** Looks a key up; misses are rate-limited by client address. Throws `Problem` too-many. */
export async function rateLimited<Found>(
  c: Context,
  deps: Deps,
  lookUp: () => Promise<Found | null>,
): Promise<Found | null> {
  const found = await lookUp();
  if (found !== null) return found;
  await takeFrom(c, deps, "guesses");
  return null;
}

const REFUSALS: Record<keyof RateLimits, { message: string; seconds: number }> = {
  guesses: { message: "Too many unknown links or keys came from here. Wait a minute, then try again.", seconds: 60 },
  begins: {
    message:
      "Too many vehicles were saved from here by people without access. Wait ten minutes, or open your access link and save it there.",
    seconds: 600,
  },
  questions: { message: "Too many questions came from here at once. Wait a few seconds, then ask again.", seconds: 10 },
  asked_with_key: {
    message: "Too many questions came with this key at once. Wait a few seconds, then ask again.",
    seconds: 10,
  },
  changes: {
    message: "Too much was sent from here at once. Nothing of this was saved. Wait a few seconds, then send it again.",
    seconds: 10,
  },
};

/**
 * Uses up one of the attempts at `what`, by default of the client's address. Throws `Problem` too-many when none is
 * left.
 */
async function takeFrom(
  c: Context,
  deps: Deps,
  what: keyof RateLimits,
  whose: string = limitedAs(deps.clientAddress(c)),
  count = 1,
): Promise<void> {
  if (await deps.limits(c)[what].take(whose, count)) return;
  const { message, seconds } = REFUSALS[what];
  c.header("Retry-After", String(seconds));
  throw new Problem("too-many", message);
}

/** Entries of a log whose computation takes as long as a short question: some 50 ms on a slow machine. */
const ENTRIES_OF_ONE = 12;

/**
 * Uses up a computed question, and more for a long log: of the address of a visitor without access, else of their key.
 * Throws `Problem` too-many when none is left.
 */
export async function mayAsk(c: Context<AppEnv>, deps: Deps, entries: number): Promise<void> {
  const access = await c.var.visit.access().catch((error: unknown) => {
    // A page that is open to all is so to whoever has a key that is no good, and while records cannot be read.
    const no_access = error instanceof Problem && (error.code === "sign-in-needed" || error.code === "unavailable");
    if (c.req.method === "GET" && no_access) return null;
    throw error;
  });
  const count = 1 + Math.floor(entries / ENTRIES_OF_ONE);
  if (access === null) await takeFrom(c, deps, "questions", limitedAs(deps.clientAddress(c)), count);
  else await takeFrom(c, deps, "asked_with_key", keyOf(access), count);
}

/** What attempts are counted by: one key, or one browser. */
function keyOf({ workspaceId, actor }: Access): string {
  return `${workspaceId} ${actor}`;
}

/** Ends this browser's session. */
export async function signOut(c: Context<AppEnv>, deps: Deps): Promise<void> {
  const token = getCookie(c, COOKIE, "host");
  if (token !== undefined) await endSession({ sql: deps.sql(c), now: deps.now }, token);
  forgetHere(c);
}

/**
 * Creates a workspace and signs this browser in as its owner. `way_back` is an unused second owner's link, for another
 * browser or for when this one loses its session. Throws `Problem` forbidden where new workspaces are not allowed.
 */
export async function openWorkspace(
  c: Context<AppEnv>,
  deps: Deps,
  settings: Partial<Settings>,
): Promise<{ access: Access; way_back: string }> {
  if (!deps.newcomers(c))
    throw new Problem(
      "forbidden",
      "Only someone with an access link can save vehicles here. Nothing was saved. Ask whoever runs this for a link.",
    );
  await takeFrom(c, deps, "begins");
  const { now, random } = deps;
  const sql = deps.sqlToBegin(c);
  const workspaceId = await createWorkspace({ sql, now, random, settings });
  const setup = workspaceStore({ sql, workspaceId, role: "owner", actor: "setup", now, random });
  const first = await setup.accessKeys.create("link", "owner", "The browser that began");
  await openSession(c, deps, first.key);
  const { key: way_back } = await setup.accessKeys.create("link", "owner", "The way back");
  return { access: { workspaceId, role: "owner", actor: first.id }, way_back };
}

/** Erases the workspace of an owner, and ends their session. A machine's own workspace begins anew. */
export async function eraseRecords(c: Context<GrantedEnv>, deps: Deps): Promise<void> {
  const sql = deps.sql(c);
  const { workspaceId } = c.var.access;
  await eraseWorkspace(sql, workspaceId);
  if (workspaceId === LOCAL_WORKSPACE)
    await ensureLocalWorkspace({ sql, now: deps.now, settings: { time_zone: deps.timeZone(c) } });
  forgetHere(c);
}

/**
 * Leaves nothing of a person in their browser for the next: no session, no page to go back to, nothing that was kept
 * without a connection (W3C, Clear Site Data).
 */
function forgetHere(c: Context): void {
  deleteCookie(c, COOKIE, COOKIE_OPTIONS);
  c.header("Clear-Site-Data", '"cache", "storage"');
}

function spentLink(): Problem {
  return new Problem(
    "not-found",
    "This access link has been used, or it was revoked. Ask the person who gave it to you for a new one.",
  );
}

/** The key of a request's `Authorization: Bearer …`; null without one. */
export function bearerOf(c: Context): string | null {
  return /^Bearer +(\S+) *$/i.exec(c.req.header("Authorization") ?? "")?.[1] ?? null;
}

/** A bearer key takes precedence over a cookie, since only a deliberate client sends one. */
async function accessOfRequest(c: Context<AppEnv>, deps: Deps): Promise<Access | null> {
  const edge = { sql: deps.sql(c), now: deps.now };
  const bearer = bearerOf(c);
  if (bearer !== null) {
    const access = await rateLimited(c, deps, () => accessOfKey(edge, bearer, "api"));
    if (access !== null) return access;
    c.header("WWW-Authenticate", 'Bearer error="invalid_token"');
    throw new Problem("sign-in-needed", "This key is not known here, or it was revoked.");
  }
  const token = getCookie(c, COOKIE, "host");
  if (token === undefined) return null;
  const session = await accessOfSession(edge, token);
  if (session === null) return null;
  if (session.prolonged) setSessionCookie(c, token);
  return session.access;
}

function storeFor(c: Context, deps: Deps, { workspaceId, role, actor }: Access): WorkspaceStore {
  return workspaceStore({ sql: deps.sql(c), workspaceId, role, actor, now: deps.now, random: deps.random });
}

function setSessionCookie(c: Context, token: string): void {
  addsHeaders(c);
  setCookie(c, COOKIE, token, { ...COOKIE_OPTIONS, maxAge: SESSION_DAYS * 24 * 3600 });
}
