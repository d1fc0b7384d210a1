import type { Context, MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { every } from "hono/combine";
import { timeout } from "hono/timeout";
import { Problem } from "../../core/problem.ts";
import type { Deps } from "./deps.ts";
import { limitedAs } from "./rate-limit.ts";

const KIB = 1024;
const BODY_BYTES = 256 * KIB;
const TIME_MS = 30_000;

/** Routes that take file uploads. Each has `uploadLimit` after its role check. */
const UPLOADS: ReadonlySet<string> = new Set(["/settings/import", "/settings/import/confirm", "/fleet/import"]);
/** Routes that read a file that was sent in before. */
const OF_A_FILE = /^\/fleet\/import\/\w+(\/\w+)?$/;
/** A workspace of ten thousand vehicles with ten entries each is 38 MB when it is exported. */
export const UPLOAD_BYTES = 64 * KIB * KIB;
const UPLOAD_MS = 120_000;
/** Other programs send up to a thousand items at once; the limit stands after the check of the role, as for uploads. */
const BULK: ReadonlySet<string> = new Set(["/api/fleet/records"]);
const BULK_BYTES = 4 * KIB * KIB;
/** No request takes longer: on a connection where nothing has moved for so long nobody is reading. */
export const STALLED_MS = UPLOAD_MS + 10_000;

/** Refuses bodies over 256 KiB, except on routes that have a limit of their own. */
export function bodyLimits(): MiddlewareHandler {
  const limit = limitedTo(BODY_BYTES);
  return function bodyLimits(c, next) {
    // These have no body, and looking for one takes as long as answering.
    const has_none = c.req.method === "GET" || c.req.method === "HEAD";
    return has_none || UPLOADS.has(c.req.path) || BULK.has(c.req.path) ? next() : limit(c, next);
  };
}

/** How long a body is, as its sender says; else as long as one may be there. */
export function bodyBytes(c: Context): number {
  const said = c.req.header("Content-Length");
  if (said !== undefined) return Number(said) || 0;
  if (UPLOADS.has(c.req.path)) return UPLOAD_BYTES;
  return BULK.has(c.req.path) ? BULK_BYTES : BODY_BYTES;
}

/** The body limit of a route that takes much at once, after its role check. */
export function bulkLimit(): MiddlewareHandler {
  return limitedTo(BULK_BYTES);
}

/** Gives up on an answer after 30 s; where a whole file is read, after two minutes. */
export function timeLimits(): MiddlewareHandler {
  const [usual, long] = [timeout(TIME_MS), timeout(UPLOAD_MS)];
  return function timeLimits(c, next) {
    return UPLOADS.has(c.req.path) || OF_A_FILE.test(c.req.path) ? long(c, next) : usual(c, next);
  };
}

/** Addresses from which a file is being read just now, by application. */
const sending = new WeakMap<object, Set<string>>();

/**
 * The body limit of an upload route. It stands after `requireRole`, so that nobody without access makes the server read
 * 64 MiB. Throws what `oneFileAtATime` throws.
 */
export function uploadLimit(deps: Pick<Deps, "access_mode" | "clientAddress">): MiddlewareHandler {
  return every(oneFileAtATime(deps), limitedTo(UPLOAD_BYTES));
}

/**
 * An address has one file read at a time: few are read at once, and none may take all the places. Throws `Problem`
 * too-many for a second one.
 */
export function oneFileAtATime(deps: Pick<Deps, "access_mode" | "clientAddress">): MiddlewareHandler {
  const addresses = sending.get(deps) ?? new Set<string>();
  sending.set(deps, addresses);
  return async function oneFileAtATime(c, next) {
    if (deps.access_mode === "local") return next();
    const from = limitedAs(deps.clientAddress(c));
    if (addresses.has(from)) {
      c.header("Retry-After", "10");
      throw new Problem("too-many", "Another file from here is being read just now. Send this one when that is done.");
    }
    addresses.add(from);
    try {
      await next();
    } finally {
      addresses.delete(from);
    }
  };
}

function limitedTo(maxSize: number): MiddlewareHandler {
  const size = maxSize >= KIB * KIB ? `${maxSize / KIB / KIB} MiB` : `${maxSize / KIB} KiB`;
  return bodyLimit({
    maxSize,
    onError: () => {
      throw new Problem("too-large", `Send at most ${size} at once.`);
    },
  });
}
