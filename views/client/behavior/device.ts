import {
  CAME_WITH_HEADER,
  ON_DEVICE,
  ON_DEVICE_HEADER,
  ON_DEVICE_ID,
  WRITE_DOWN,
  WRITE_DOWN_PATH,
} from "../../words/on-device.ts";
import { linkTo, showStatusLine } from "./status-line.ts";

/** How long a browser that does not say when it is idle is left alone. */
const QUIET_MS = 3000;

interface Ctx {
  request: { headers: Record<string, string> };
  response?: { raw: Response };
}

/**
 * Gets what answers without a connection, once the page is there and nothing else is to be done; then says on the page
 * whenever a part of it was made on this device.
 */
export function workWithoutConnection(): void {
  const worker = document.documentElement.dataset.device;
  if (worker === undefined || !("serviceWorker" in navigator)) return;
  // Where it cannot be had (a browser's private window, a full disk), pages come from the server as before.
  const register = () => void navigator.serviceWorker.register(worker, { scope: "/" }).catch(() => {});
  const whenIdle = () =>
    "requestIdleCallback" in window ? requestIdleCallback(register) : setTimeout(register, QUIET_MS);
  if (document.readyState === "complete") whenIdle();
  else addEventListener("load", whenIdle);

  document.addEventListener("htmx:config:request", (event) => {
    ctxOf(event).request.headers[CAME_WITH_HEADER] = worker;
  });
  document.addEventListener("htmx:after:swap", (event) => {
    const headers = ctxOf(event).response?.raw.headers;
    if (headers !== undefined) say(headers.has(ON_DEVICE_HEADER));
  });
}

function ctxOf(event: Event): Ctx {
  return (event as CustomEvent<{ ctx: Ctx }>).detail.ctx;
}

function say(on_device: boolean): void {
  const said = document.getElementById(ON_DEVICE_ID);
  if (!on_device) said?.remove();
  if (!on_device || said !== null) return;
  showStatusLine(ON_DEVICE_ID, `${ON_DEVICE} `, linkTo(WRITE_DOWN_PATH, WRITE_DOWN));
}
