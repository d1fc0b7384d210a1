import type { Context } from "hono";

/**
 * Puts the current question's address into the browser's history, unless it is there already. The edits of one sitting
 * make one entry: each replaces the one before.
 */
export function keepInHistory(c: Context, address: string): void {
  const current = c.req.header("HX-Current-URL");
  const here = current === undefined ? "" : URL.parse(current);
  const is_same = here instanceof URL && `${here.pathname}${here.search}` === address;
  const again = c.req.header("Seepwise-Edit") === "again";
  c.header(is_same || again ? "HX-Replace-Url" : "HX-Push-Url", address);
}
