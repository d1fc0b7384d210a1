/**
 * The worker that a browser keeps of Seepwise, for where there is no connection. The server is asked first, always;
 * only when it cannot be reached, or not within `PATIENCE_MS`, this device answers by itself. Kept are the files of one
 * version, which hold nothing of anybody; no answer of the server is.
 */
import { assetUrl } from "../web/edge/asset-url.ts";
import { deviceApp } from "./device-app.ts";

declare const self: ServiceWorkerGlobalScope;
/** The build's manifest, put in by the build: plain name → address. */
declare const ASSETS: Readonly<Record<string, string>>;

const PATIENCE_MS = 5000;
/** Each version has a file name of its own. */
const OWN_FILE = self.location.pathname;
const CACHE = `seepwise${OWN_FILE}`;
const FILES = new Set(Object.values(ASSETS));

const app = deviceApp({
  asset: assetUrl({ ...ASSETS, "device.js": OWN_FILE }),
  now: () => new Date(),
  time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone,
});
/** The pages that this device can make. */
const OWN_PAGES = new Set(app.routes.filter(({ method }) => method === "GET").map(({ path }) => path));

self.addEventListener("install", (event) => {
  event.waitUntil(
    caches
      .open(CACHE)
      .then((cache) => cache.addAll([...FILES]))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(deleteOtherVersions().then(() => self.clients.claim()));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin) return;
  if (FILES.has(pathname)) event.respondWith(fromCache(request));
  else if (OWN_PAGES.has(pathname) && (request.mode === "navigate" || request.headers.has("HX-Request")))
    event.respondWith(serverFirst(request));
  else if (request.mode === "navigate") event.respondWith(fetch(request).catch(() => onDevice(request)));
});

async function deleteOtherVersions(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name)));
}

async function fromCache(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  return (await cache.match(request)) ?? fetch(request);
}

async function serverFirst(request: Request): Promise<Response> {
  const server = fetch(request).catch((error: unknown) => {
    // Someone who has asked for something else in the meantime waits for no answer.
    if (request.signal.aborted) throw error;
    return onDevice(request);
  });
  const answer = await Promise.race([server, later(PATIENCE_MS)]);
  if (answer !== null) return answer;
  server.catch(() => {});
  return onDevice(request);
}

async function onDevice(request: Request): Promise<Response> {
  return app.fetch(request);
}

function later(ms: number): Promise<null> {
  return new Promise((resolve) => setTimeout(() => resolve(null), ms));
}
