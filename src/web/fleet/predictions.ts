import { type Context, Hono } from "hono";
import type { PredictedMark } from "../../../views/fleet/predicted-picture.tsx";
import { Hindsight, type HindsightProgress, PredictionsPage } from "../../../views/fleet/predictions-page.tsx";
import { MODEL_VERSION } from "../../core/assess.ts";
import { heldBy, monthsAfterCharge, trackRecord } from "../../core/hindsight/track-record.ts";
import type { VehiclePrediction } from "../../store/predictions.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvOf } from "../edge/csv.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { workspacePages } from "../edge/kept-pages.ts";
import { answerPage } from "../edge/page.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { todayIn } from "../workspace.ts";
import { workOnFleet } from "./background.ts";
import { hindsightFreshFrom } from "./hindsight.ts";

/** Marks in the picture; more run into each other. */
const MOST_MARKS = 120;

/** How well it has predicted: the page, its progress, and its rows as a file. */
export function fleetPredictionsRoutes(deps: Deps) {
  const kept = workspacePages(deps);

  /** How far the run is, which goes on, or is still to begin after the fleet's first answers; else null. */
  async function progressOf({ predictions, reckoning, ...store }: WorkspaceStore): Promise<HindsightProgress | null> {
    const left = async () => {
      const [run, answers] = await Promise.all([predictions.run(), reckoning.underWay()]);
      const waits = answers !== null;
      return run?.under_way || (run === null && waits) ? { all: run?.all ?? 0, left: run?.left ?? 0, waits } : null;
    };
    if ((await left()) === null) return null;
    await workOnFleet(deps, { predictions, reckoning, ...store });
    return left();
  }

  async function page(c: Context<AppEnv & GrantedEnv>, workspace: Workspace, progress: HindsightProgress | null) {
    const { store, access } = c.var;
    const today = todayIn(workspace, deps.now());
    const [run, all, totals, due] = await Promise.all([
      store.predictions.run(),
      progress === null ? store.predictions.all() : [],
      store.fleet.totals(),
      store.predictions.due(hindsightFreshFrom(today), today),
    ]);
    const by_group = Map.groupBy(all, ({ vehicle }) => vehicle.fleet_group ?? "No group");
    return PredictionsPage({
      as_of: run?.as_of ?? null,
      progress,
      vehicles: totals.vehicles,
      due,
      record: trackRecord(all),
      groups: Array.from(by_group, ([name, members]) => ({ name, record: trackRecord(members) })).sort((a, b) =>
        a.name < b.name ? -1 : 1,
      ),
      marks: marksOf(all),
      may_edit: mayAct(access.role, "editor"),
      asset: deps.asset,
    });
  }

  return new Hono<AppEnv>()
    .get("/fleet/predictions", requireRole("viewer"), async (c) => {
      const progress = await progressOf(c.var.store);
      if (progress !== null) return answerPage(c, await page(c, await c.var.store.settings.get(), progress));
      return kept(c, (workspace) => page(c, workspace, null));
    })
    .get("/fleet/predictions/progress", requireRole("viewer"), async (c) => {
      const progress = await progressOf(c.var.store);
      if (!wantsFragment(c)) return c.redirect("/fleet/predictions", 303);
      if (progress !== null) return c.html(Hindsight(progress));
      c.header("HX-Refresh", "true");
      return c.html("");
    })
    .get("/fleet/predictions.csv", requireRole("viewer"), async (c) =>
      csvFile(c, "predictions", predictionsCsv(await c.var.store.predictions.all())),
    )
    .post("/fleet/predictions", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const today = todayIn(await store.settings.get(), deps.now());
      await store.predictions.begin(today, hindsightFreshFrom(today));
      await workOnFleet(deps, store);
      return c.redirect("/fleet/predictions", 303);
    });
}

/** An even sample of the charges that were low again, by the day on which they were. */
function marksOf(all: readonly VehiclePrediction[]): PredictedMark[] {
  const came = all.filter(({ low_on }) => low_on !== null).sort((a, b) => (a.until < b.until ? -1 : 1));
  const drawn = Math.min(came.length, MOST_MARKS);
  return Array.from({ length: drawn }, (_, i) => {
    const one = came[drawn === came.length ? i : Math.round((i * (came.length - 1)) / (drawn - 1))]!;
    const dated = (date: string | null) => ({ date, months: monthsAfterCharge(one, date) });
    return {
      id: one.vehicle.id,
      label: one.vehicle.label,
      charged: one.from,
      held: heldBy(one) ?? "inside",
      came: dated(one.low_on),
      from: dated(one.p05),
      middle: dated(one.p50),
      to: dated(one.p95),
    };
  });
}

function predictionsCsv(all: readonly VehiclePrediction[]): string {
  return csvOf(
    [
      ...["vehicle", "group", "depot", "charged_on", "low_p05", "low_p50", "low_p95", "ended", "found_or_known_until"],
      ...["low_about", "in_likely_range", "chance_by_then", "as_long_as_last_time", "model_version"],
    ],
    all.map((one) => [
      ...[one.vehicle.label, one.vehicle.fleet_group, one.vehicle.depot, one.from, one.p05, one.p50, one.p95],
      ...[one.ended, one.until, one.low_on, heldBy(one), one.chance, one.by_rule, MODEL_VERSION],
    ]),
  );
}
