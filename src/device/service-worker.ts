/**
 * The worker that a browser keeps of Seepwise, for where there is no connection. The server is asked first, always;
 * only when it cannot be reached, or not within `PATIENCE_MS`, this device answers by itself. Kept are the files of one
 * version, which hold nothing of anybody, and the entries that wait to be sent; no answer of the server is.
 */

import { saidWaiting, WAITING_PATH, type WaitingQuestion, WRITE_DOWN_PATH } from "../../views/words/on-device.ts";
import { assetUrl } from "../web/edge/asset-url.ts";
import { calendarDay } from "../web/edge/calendar-day.ts";
import { deviceApp } from "./device-app.ts";
import { postOrWait, sendWaiting } from "./sending.ts";
import { canWait } from "./waiting.ts";
import { waitingStore } from "./waiting-store.ts";

declare const self: ServiceWorkerGlobalScope;
/** The build's manifest, put in by the build: plain name → address. */
declare const ASSETS: Readonly<Record<string, string>>;

const PATIENCE_MS = 5000;
/** Each version has a file name of its own. */
const OWN_FILE = self.location.pathname;
const CACHE = `seepwise${OWN_FILE}`;
const FILES = new Set(Object.values(ASSETS));

const now = () => new Date();
const time_zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
const waiting = waitingStore();
const app = deviceApp({
  asset: assetUrl({ ...ASSETS, "device.js": OWN_FILE }),
  now,
  time_zone,
  units: new Intl.Locale(navigator.language).region === "US" ? "us" : "metric",
  random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
  waiting,
});
/** The pages that this device can make. */
const OWN_PAGES = new Set(app.routes.filter(({ method }) => method === "GET").map(({ path }) => path));
/** Those that no server has. */
const DEVICE_ONLY = new RegExp(`^(${WRITE_DOWN_PATH}|${WAITING_PATH})(/|$)`);

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
  if (origin !== self.location.origin) return;
  const page = request.mode === "navigate";
  if (DEVICE_ONLY.test(pathname)) event.respondWith(afterWaiting(() => onDevice(request)));
  else if (request.method === "POST" && page && canWait(pathname)) event.respondWith(posted(request));
  else if (request.method !== "GET") return;
  else if (FILES.has(pathname)) event.respondWith(fromCache(request));
  else if (page) event.respondWith(afterWaiting(() => pageOf(request, pathname)));
  else if (OWN_PAGES.has(pathname) && request.headers.has("HX-Request")) event.respondWith(serverFirst(request));
});

/** A page asks how many entries wait, and is told in words; null for none. */
self.addEventListener("message", (event) => {
  const { send } = event.data as WaitingQuestion;
  const [port] = event.ports;
  if (port === undefined) return;
  const told = async () => {
    if (send) await sendWaiting(waiting, self.location.origin, fetch);
    const count = (await waiting.all()).length;
    port.postMessage(count === 0 ? null : saidWaiting(count));
  };
  event.waitUntil(told());
});

async function deleteOtherVersions(): Promise<void> {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name)));
}

async function fromCache(request: Request): Promise<Response> {
  const cache = await caches.open(CACHE);
  return (await cache.match(request)) ?? fetch(request);
}

/** A page shows what waited before it was asked for, where that can be sent at once. */
async function afterWaiting(page: () => Promise<Response>): Promise<Response> {
  // Where the browser's database is broken, pages still come.
  const sent = sendWaiting(waiting, self.location.origin, fetch).catch(() => {});
  await Promise.race([sent, later(PATIENCE_MS)]);
  return page();
}

async function pageOf(request: Request, pathname: string): Promise<Response> {
  return OWN_PAGES.has(pathname) ? serverFirst(request) : fetch(request).catch(() => onDevice(request));
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

async function posted(request: Request): Promise<Response> {
  const send = (form: Request) => fetch(form, { signal: AbortSignal.timeout(2 * PATIENCE_MS) });
  const answer = await postOrWait(request, { entries: waiting, send, now, today: calendarDay(now(), time_zone) });
  return answer ?? Response.redirect(WAITING_PATH, 303);
}

async function onDevice(request: Request): Promise<Response> {
  return app.fetch(request);
}

function later(ms: number): Promise<null> {
  return new Promise((resolve) => setTimeout(() => resolve(null), ms));
}
