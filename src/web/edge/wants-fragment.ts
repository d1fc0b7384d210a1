import type { Context } from "hono";

/**
 * Whether the answer goes into a page that is there already. A whole page is wanted by who takes a part out of it, or
 * replaces all of it ("full"), and by who goes back in the page's history.
 */
export function wantsFragment(c: Context): boolean {
  return (
    c.req.header("HX-Request") === "true" &&
    c.req.header("HX-Request-Type") !== "full" &&
    c.req.header("HX-History-Restore-Request") !== "true"
  );
}
