import type { Context } from "hono";

/**
 * Puts the address of what is now on the page into the browser's history, unless it is there already. The edits of one
 * sitting are one step: after the first, each takes the place of the one before.
 */
export function keepInHistory(c: Context, address: string): void {
  const current = c.req.header("HX-Current-URL");
  const here = current === undefined ? "" : URL.parse(current);
  const is_same = here instanceof URL && `${here.pathname}${here.search}` === address;
  const again = c.req.header("Seepwise-Edit") === "again";
  c.header(is_same || again ? "HX-Replace-Url" : "HX-Push-Url", address);
}
