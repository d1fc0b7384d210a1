import type { Context } from "hono";
import { notFound } from "../../store/errors.ts";
import type { Quote } from "../../store/quote-row.ts";
import type { GrantedEnv } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";

/** What answers one verb of a quote's addresses, behind the role that its route asks for. */
export type QuoteHandler = (c: Context<GrantedEnv>, deps: Deps) => Promise<Response>;

/** The quote of the address, which names its vehicle, too. Throws `Problem` not-found. */
export async function quoteOf(c: Context<GrantedEnv>): Promise<Quote> {
  const quote = await c.var.store.quotes.get(c.req.param("quote") ?? "");
  if (quote.vehicle_id !== c.req.param("id")) throw notFound("quote");
  return quote;
}

/** Where a quote is read and, while it is a draft, written. */
export function pathOf({ vehicle_id, id }: Pick<Quote, "vehicle_id" | "id">): string {
  return `/vehicles/${vehicle_id}/quotes/${id}`;
}
