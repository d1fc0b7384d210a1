import { Hono } from "hono";
import { secureHeaders } from "hono/secure-headers";

/** What a page may load and where it may send: our own files only, no inline script or style. */
const contentSecurityPolicy = {
  defaultSrc: ["'self'"],
  scriptSrc: ["'self'"],
  styleSrc: ["'self'"],
  imgSrc: ["'self'", "data:"],
  workerSrc: ["'self'"],
  manifestSrc: ["'self'"],
  objectSrc: ["'none'"],
  baseUri: ["'none'"],
  formAction: ["'self'"],
  frameAncestors: ["'none'"],
};

/** Browser features that no page needs; nothing loaded into a page may ask for them either. */
const permissionsPolicy = {
  camera: [],
  displayCapture: [],
  geolocation: [],
  microphone: [],
  payment: [],
  usb: [],
};

/**
 * The security headers of every answer. A server for its own machine alone sends no HSTS: it is reached without HTTPS,
 * and the browser would apply HSTS to everything else at that name.
 */
export function securityHeaders({ https }: { https: boolean }) {
  return {
    contentSecurityPolicy,
    permissionsPolicy,
    // "same-origin", because under "no-referrer" a browser sends forms with `Origin: null`, which the CSRF check must
    // refuse.
    referrerPolicy: "same-origin",
    xFrameOptions: "DENY",
    crossOriginEmbedderPolicy: "require-corp",
    strictTransportSecurity: https ? "max-age=31536000" : false,
  };
}

/** The same by name and text, for answers that are made in one piece, and files that are served before the app. */
export async function securityHeaderTexts(options: { https: boolean }): Promise<Record<string, string>> {
  const app = new Hono().use(secureHeaders(securityHeaders(options))).get("/", (c) => c.body(null));
  return Object.fromEntries((await app.request("/")).headers);
}

/** Files with a hash in their name never change. */
export const HASHED_FILE_CACHE = "public, max-age=31536000, immutable";

/** The worker's file lies among the others, and answers for every page. */
export const WORKER_SCOPE = { "Service-Worker-Allowed": "/" };
