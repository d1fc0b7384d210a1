import type { Context } from "hono";
import { notFound } from "../../store/errors.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { GrantedEnv } from "../edge/access.ts";

/** The quote of the address, if it belongs to the vehicle of the address. Throws `Problem` not-found. */
export async function quoteOf(c: Context<GrantedEnv>): Promise<Quote> {
  const quote = await c.var.store.quotes.get(c.req.param("quote") ?? "");
  if (quote.vehicle_id !== c.req.param("id")) throw notFound("quote");
  return quote;
}

/** The path of a quote, where a draft is edited, too. */
export function pathOf({ vehicle_id, id }: Pick<Quote, "vehicle_id" | "id">): string {
  return `/vehicles/${vehicle_id}/quotes/${id}`;
}
