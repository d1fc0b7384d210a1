import { type Context, Hono } from "hono";
import { ListPage } from "../../../views/vehicles/list-page.tsx";
import { questionOf } from "../../core/question/question.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { workspacePages } from "../edge/kept-pages.ts";
import type { Model } from "../edge/model.ts";
import { searchedFor } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";
import { vehicleRequest } from "../vehicle-answer.ts";
import { todayIn, unitsOf, workspacePrices } from "../workspace.ts";
import { briefAnswers } from "./brief-answer.ts";

const VEHICLES_PER_PAGE = 25;

/** `GET /vehicles`: every vehicle with its answer, `?q=` words, `?archived=1`, `?after=` the page before. */
export function listRoutes(deps: Deps) {
  const kept = workspacePages(deps);
  return new Hono<AppEnv>().get("/vehicles", requireRole("viewer"), (c) =>
    kept(c, (workspace, submit_key) => listPage(c, workspace, submit_key)),
  );

  async function listPage(c: Context<AppEnv & GrantedEnv>, workspace: Workspace, submit_key: string) {
    const { store, access } = c.var;
    const { q, archived: archived_said, after, examples } = c.req.query();
    const search = searchedFor(q);
    const archived = archived_said !== undefined;
    const [books, { items, next }, found, others, has_examples] = await Promise.all([
      store.priceBooks.own(),
      store.vehicles.list({ search, archived, limit: VEHICLES_PER_PAGE, after: after ?? null }),
      store.vehicles.count({ search, archived }),
      store.vehicles.count({ archived: !archived }),
      store.vehicles.hasExamples(),
    ]);
    const address = (more: Record<string, string>) => {
      const said = { ...(archived ? { archived: "1" } : {}), ...(search === "" ? {} : { q: search }), ...more };
      return Object.keys(said).length === 0 ? "/vehicles" : `/vehicles?${new URLSearchParams(said)}`;
    };
    return ListPage({
      vehicles: await answered(
        deps.model,
        store,
        items.map(({ id }) => id),
        todayIn(workspace, deps.now()),
      ),
      found,
      archived,
      others,
      search,
      first: after === undefined ? null : address({}),
      next: next === null ? null : address({ after: next }),
      has_examples,
      examples_were: oneOf(["loaded", "removed"], examples ?? "") ?? null,
      units: unitsOf(workspace),
      prices: workspacePrices(workspace, books),
      may_edit: mayAct(access.role, "editor"),
      submit_key,
      asset: deps.asset,
    });
  }
}

/** Vehicles with their answers, all read at once. */
async function answered(model: Model, store: WorkspaceStore, ids: readonly string[], today: string) {
  const asked = (await store.records(ids)).map((record) => ({
    vehicle: record.vehicle,
    vehicle_id: record.vehicle.id,
    request: vehicleRequest(record, today),
  }));
  const answers = await briefAnswers(model, store, asked);
  return asked.map(({ vehicle, request }, i) => {
    const { plan, log } = questionOf(request);
    return { vehicle, answer: answers[i]!, no_entries: log.length === 0, keep_years: plan.keep_years };
  });
}
