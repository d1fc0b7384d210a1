import type { Context } from "hono";
import { Problem } from "../core/problem.ts";
import { GENERAL_TERMS, type PriceTerms, priceTerms } from "../core/quotes/price-terms.ts";
import type { AppEnv, Deps } from "./edge/deps.ts";
import { KeptFacts } from "./edge/kept-facts.ts";
import { ownPages } from "./edge/kept-pages.ts";

/**
 * The prices that hold for whoever asks a quick question: those of their workspace; the general ones for someone
 * without access, and while the records cannot be read, since a question needs no records. `stamp` changes whenever
 * they do.
 */
export async function termsOfVisitor(c: Context<AppEnv>, deps: Deps): Promise<StampedTerms> {
  const found = await readable(async () => {
    const visit = c.get("visit");
    const access = await visit.access();
    if (access === null) return null;
    const store = visit.store(access);
    return ownTerms.of(ownPages(deps, c), store, await store.stamp());
  });
  return found ?? { terms: GENERAL_TERMS, stamp: "" };
}

interface StampedTerms {
  terms: PriceTerms;
  stamp: string;
}

/** The prices of a workspace, for a vehicle that is in none of its groups. */
const ownTerms = new KeptFacts(async (store): Promise<StampedTerms> => {
  const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
  const terms = priceTerms(workspace, books, { fleet_group: null });
  const { currency, wanted, book, service } = terms;
  const stamp = [store.workspaceId, currency, wanted, book?.id, book?.version, service].join(" ");
  return { terms, stamp: book === null && wanted === null && service === null ? "" : stamp };
});

/** An expired link or damaged records must not block a question. */
async function readable<Found>(read: () => Promise<Found>): Promise<Found | null> {
  try {
    return await read();
  } catch (error) {
    if (error instanceof Problem && (error.code === "sign-in-needed" || error.code === "unavailable")) return null;
    throw error;
  }
}
