import type { Context } from "hono";

/**
 * Whether the answer is swapped into an existing page. A whole page is wanted when part of it is selected, when all of
 * it is replaced ("full"), and when the browser goes back in history.
 */
export function wantsFragment(c: Context): boolean {
  return (
    c.req.header("HX-Request") === "true" &&
    c.req.header("HX-Request-Type") !== "full" &&
    c.req.header("HX-History-Restore-Request") !== "true"
  );
}
