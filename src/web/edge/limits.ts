import type { MiddlewareHandler } from "hono";
import { bodyLimit } from "hono/body-limit";
import { timeout } from "hono/timeout";
import { Problem } from "../../core/problem.ts";

const KIB = 1024;
const BODY_BYTES = 256 * KIB;
const TIME_MS = 30_000;

/** Routes that take file uploads. Each has `uploadLimit` after its role check. */
const UPLOADS: ReadonlySet<string> = new Set(["/settings/import", "/settings/import/confirm", "/fleet/import"]);
/** A workspace of ten thousand vehicles with ten entries each is 38 MB when it is exported. */
export const UPLOAD_BYTES = 64 * KIB * KIB;
const UPLOAD_MS = 120_000;
/** Nothing goes on for longer: a connection on which nothing has moved for so long belongs to one who does not read. */
export const STALLED_MS = UPLOAD_MS + 10_000;

/** Refuses bodies over 256 KiB, except on upload routes. */
export function bodyLimits(): MiddlewareHandler {
  const limit = unlessUpload(limitedTo(BODY_BYTES), (_c, next) => next());
  return function bodyLimits(c, next) {
    // These have none, and to look for one takes as long as answering.
    return c.req.method === "GET" || c.req.method === "HEAD" ? next() : limit(c, next);
  };
}

/** Gives up on an answer after 30 s; on upload routes, after two minutes. */
export function timeLimits(): MiddlewareHandler {
  return unlessUpload(timeout(TIME_MS), timeout(UPLOAD_MS));
}

/**
 * The body limit of an upload route. It stands after `requireRole`, so that nobody without access makes the server read
 * 64 MiB.
 */
export function uploadLimit(): MiddlewareHandler {
  return limitedTo(UPLOAD_BYTES);
}

function unlessUpload(usual: MiddlewareHandler, upload: MiddlewareHandler): MiddlewareHandler {
  return function limit(c, next) {
    return UPLOADS.has(c.req.path) ? upload(c, next) : usual(c, next);
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
