import type { Context } from "hono";
import { Problem } from "../core/problem.ts";
import { GENERAL_TERMS, type PriceTerms, priceTerms } from "../core/quotes/price-terms.ts";
import type { Access } from "../store/access.ts";
import type { AppEnv } from "./edge/deps.ts";

/**
 * The prices that hold for whoever asks a quick question: those of their workspace, or the general ones for someone
 * without
 * access. `stamp` changes whenever they do.
 */
export async function termsOfVisitor(c: Context<AppEnv>): Promise<{ terms: PriceTerms; stamp: string }> {
  const access = await accessOf(c);
  if (access === null) return { terms: GENERAL_TERMS, stamp: "" };
  const store = c.var.visit.store(access);
  const [workspace, books] = await Promise.all([store.settings.get(), store.priceBooks.own()]);
  const terms = priceTerms(workspace, books, { fleet_group: null });
  const { currency, wanted, book } = terms;
  const stamp = [store.workspaceId, currency, wanted, book?.id, book?.version].join(" ");
  return { terms, stamp: book === null && wanted === null ? "" : stamp };
}

/** A link that has ended opens no records, and no prices: the question stays open to everyone. */
async function accessOf(c: Context<AppEnv>): Promise<Access | null> {
  try {
    return await c.var.visit.access();
  } catch (error) {
    if (error instanceof Problem && error.code === "sign-in-needed") return null;
    throw error;
  }
}
