import type { Context } from "hono";

/** Puts the address of what is now on the page into the browser's history, unless it stands there already. */
export function keepInHistory(c: Context, address: string): void {
  const current = c.req.header("HX-Current-URL");
  const here = current === undefined ? "" : URL.parse(current);
  const is_same = here instanceof URL && `${here.pathname}${here.search}` === address;
  c.header(is_same ? "HX-Replace-Url" : "HX-Push-Url", address);
}
