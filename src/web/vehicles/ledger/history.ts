import type { Context } from "hono";
import { HistoryPage } from "../../../../views/vehicles/record/history-page.tsx";
import { vehiclePath } from "../../../../views/vehicles/record/record.ts";
import type { GrantedEnv } from "../../edge/access.ts";
import { answerPage } from "../../edge/page.ts";
import { aboutVehicle } from "../about.ts";
import { type LedgerDesk, param } from "./line-page.ts";

/** GET `/vehicles/:id/…/history`: every change of every line, newest first. */
export async function answerHistory<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  { deps, pages }: LedgerDesk<Fields, Content, Input>,
): Promise<Response> {
  const id = param(c, "id");
  const { vehicle, workspace, about } = await aboutVehicle(c.var.store, id, deps.now());
  const { items, next } = await pages.of(c.var.store).history(id, { limit: 100, after: c.req.query("after") ?? null });
  const props = {
    vehicle,
    ledger: pages.name,
    lines: items.map((line) => ({ line, said: pages.said(line, about) })),
    older: next === null ? null : `${vehiclePath(id, pages.name, "history")}?${new URLSearchParams({ after: next })}`,
    time_zone: workspace.time_zone,
    asset: deps.asset,
  };
  return answerPage(c, HistoryPage(props));
}
