import { Hono } from "hono";
import { type GrantedEnv, requireRole } from "../../edge/access.ts";
import type { Deps } from "../../edge/deps.ts";
import { addLine, correctLine, removeLine, undoLine } from "./changes.ts";
import { answerHistory } from "./history.ts";
import type { LedgerPages } from "./ledgers.ts";
import { answerLine, answerNew } from "./line-page.ts";

/**
 * The pages of one ledger of a vehicle: a form for a new line, a form for each stored one with what was written before,
 * every change, and what their buttons do.
 */
export function ledgerRoutes<Fields, Content extends object, Input extends object>(
  deps: Deps,
  pages: LedgerPages<Fields, Content, Input>,
) {
  const desk = { deps, pages };
  const editor = requireRole("editor");
  const lines = `/vehicles/:id/${pages.name}`;
  return new Hono<GrantedEnv>()
    .get(`${lines}/new`, editor, (c) => answerNew(c, desk))
    .get(`${lines}/history`, requireRole("viewer"), (c) => answerHistory(c, desk))
    .get(`${lines}/:line`, requireRole(pages.looks ?? "editor"), (c) => answerLine(c, desk))
    .post(lines, editor, (c) => addLine(c, desk))
    .post(`${lines}/:line/corrections`, editor, (c) => correctLine(c, desk))
    .post(`${lines}/:line/removals`, editor, (c) => removeLine(c, desk))
    .post(`${lines}/:line/undos`, editor, (c) => undoLine(c, desk));
}
