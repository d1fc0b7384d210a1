import { Hono } from "hono";
import { EXAMPLE_VEHICLES, type ExampleVehicle } from "../../../data/example-workspace.ts";
import { dayNumber, isoFromDay } from "../../core/quantities/dates.ts";
import { NEW_VEHICLE } from "../../core/question/record.ts";
import type { FirstRecords } from "../../store/vehicles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { formOf, submitKeyOf } from "../forms/posted-form.ts";
import { todayIn } from "../workspace.ts";

/** The invented vehicles: loaded by one button, and taken away by another. */
export function exampleRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();

  app.post("/vehicles/examples", requireRole("editor"), async (c) => {
    const submit_key = submitKeyOf(await formOf(c));
    const { store } = c.var;
    const today = todayIn(await store.settings.get(), deps.now());
    if (!(await store.vehicles.hasExamples())) await loadExamples(store, today, submit_key);
    return c.redirect("/vehicles?examples=loaded", 303);
  });
  app.post("/vehicles/examples/removal", requireRole("editor"), async (c) => {
    await c.var.store.vehicles.deleteExamples();
    return c.redirect("/vehicles?examples=removed", 303);
  });
  return app;
}

/** Each change is made once for a press of the button, however often it arrives. */
async function loadExamples(store: WorkspaceStore, today: string, submit_key: string | null): Promise<void> {
  for (const [i, example] of EXAMPLE_VEHICLES.entries()) {
    const key = (what: string) => (submit_key === null ? null : `${submit_key}-${i}-${what}`);
    const { id } = await store.vehicles.create(
      { ...NEW_VEHICLE, ...example.vehicle },
      recordsOf(example, today),
      key("vehicle"),
    );
    if (example.archived) await store.vehicles.archive(id, 1, key("archive"));
    if (example.correction !== undefined) await correct(store, id, example.correction, key("correction"));
  }
}

/** Its records, with days counted back from `today`. */
function recordsOf({ charge_log, findings, readings = [], notes }: ExampleVehicle, today: string): FirstRecords {
  const dated = <T extends { days_ago: number }>({ days_ago, ...rest }: T) => ({
    ...rest,
    date: isoFromDay(dayNumber(today) - days_ago),
  });
  return {
    charge_log: charge_log.map(dated),
    findings: findings.map(dated),
    readings: readings.map(dated),
    notes,
    example: true,
  };
}

/** Puts right what was first written wrong, so that there is a history to look at. */
async function correct(
  store: WorkspaceStore,
  vehicle_id: string,
  { entry, added_g }: NonNullable<ExampleVehicle["correction"]>,
  submit_key: string | null,
): Promise<void> {
  const line = (await store.chargeLog.list(vehicle_id))[entry];
  if (line !== undefined) await store.chargeLog.correct(line.id, 1, { ...line, added_g }, submit_key);
}
