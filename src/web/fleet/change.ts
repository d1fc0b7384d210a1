import { type Context, Hono } from "hono";
import { z } from "zod";
import { planParameters } from "../../../data/parameters.ts";
import { ChangePage, type ChangePageProps } from "../../../views/fleet/change-page.tsx";
import { vehicles } from "../../../views/fleet/shown.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { formatDate } from "../../core/quantities/dates.ts";
import { VEHICLE_KINDS } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { Conflict } from "../../store/errors.ts";
import { vehicleInputOf } from "../../store/vehicles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { unlessOvertaken } from "../edge/overtaken.ts";
import { answerPage } from "../edge/page.ts";
import { Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { formOf, typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf, readNumber } from "../forms/typed-values.ts";
import { keepYears } from "../schemas/record-schema.ts";
import { dayContextOf, todayIn } from "../workspace.ts";
import { chosenIn, MOST_SELECTED } from "./table.ts";
import { recordCooled } from "./terms.ts";

const FIELDS = ["group", "depot", "kind", "keep_years", "date"] as const;

/** What can be set for many vehicles at once; null: nobody says it. */
const settable = {
  fleet_group: z.string().min(1).max(MAX_LABEL_CHARS).nullable(),
  depot: z.string().min(1).max(MAX_LABEL_CHARS).nullable(),
  kind: z.enum(VEHICLE_KINDS).nullable(),
  keep_years: keepYears.nullable(),
};
type Settable = { [Name in keyof typeof settable]: z.infer<(typeof settable)[Name]> };

/** It as it was, so that a change of it can be undone. */
const before = z.array(z.object({ id: z.string().max(64), ...settable })).max(MOST_SELECTED);

type Done = NonNullable<ChangePageProps["done"]>;

/** What is done with all ticked vehicles at once, and undone. What cannot be done is given back as it was typed. */
export function fleetChangeRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/change", requireRole("editor"), async (c) => {
      const { ids, left_out } = await chosenIn(c);
      return show(c, deps, ids, { left_out });
    })
    .post("/fleet/change", requireRole("editor"), async (c) => {
      const form = await formOf(c);
      const ids = idsOf(form.getAll("v"));
      const outcome = await change(c.var.store, ids, form, deps.now());
      return show(c, deps, ids, Array.isArray(outcome) ? { errors: outcome, form } : { done: outcome });
    });
}

async function show(
  c: Context<AppEnv & GrantedEnv>,
  deps: Deps,
  ids: readonly string[],
  {
    done = null,
    errors = [],
    form,
    left_out = 0,
  }: { done?: Done | null; errors?: readonly FieldError[]; form?: URLSearchParams; left_out?: number },
) {
  const { store } = c.var;
  const [labels, settings] = await Promise.all([store.fleet.labels(ids), store.settings.get()]);
  const today = formatDate(todayIn(settings, deps.now()));
  const props = {
    chosen: Array.from(labels, ([id, label]) => ({ id, label })),
    left_out,
    done,
    errors,
    fields: { ...typedFields(form ?? new URLSearchParams(), FIELDS), date: form?.get("date") ?? today },
    asset: deps.asset,
  };
  return answerPage(c, ChangePage(props), errors.length > 0 ? 422 : 200);
}

/** Does what the pressed button says; or gives the errors, and has done nothing. */
async function change(
  store: WorkspaceStore,
  ids: readonly string[],
  form: URLSearchParams,
  now: Date,
): Promise<Done | FieldError[]> {
  switch (form.get("what")) {
    case "archive":
      return { said: `${vehicles(await archived(store, ids, true))} archived`, undo: { what: "restore", was: "" } };
    case "restore":
      return { said: `${vehicles(await archived(store, ids, false))} in use again`, undo: null };
    case "back": {
      const was = before.safeParse(jsonOf(form.get("was") ?? ""));
      if (!was.success) return [{ field: "group", message: "This change can no longer be undone" }];
      return { said: `${vehicles((await changed(store, was.data)).length)} as before`, undo: null };
    }
    case "cooled": {
      const read = readDay(form.get("date") ?? "", dayContextOf(await store.settings.get(), now));
      if (!("iso" in read)) return [{ field: "date", message: read.message }];
      const count = await recordCooled(store, { ids }, read.iso);
      const others = ids.length - count;
      const said = others === 0 ? "" : `; ${others === 1 ? "1 has" : `${others} have`} an entry since`;
      return { said: `“Cooled well” entered for ${vehicles(count)}${said}`, undo: null };
    }
    default:
      return set(store, ids, form);
  }
}

/** Sets what was filled in; what was left empty stays as it is. */
async function set(store: WorkspaceStore, ids: readonly string[], form: URLSearchParams) {
  const refusals = new Refusals();
  const said = (field: string) => form.get(field) ?? "";
  const words = (field: "group" | "depot") => {
    const read = readWords(said(field), MAX_LABEL_CHARS);
    if ("message" in read) refusals.refuse(field, read.message);
    return "words" in read ? read.words : null;
  };
  const { min, max } = planParameters.keep_years;
  const years = isEmpty(said("keep_years")) ? null : (readNumber(said("keep_years")) ?? Number.NaN);
  if (years !== null && !(years >= min && years <= max))
    refusals.refuse("keep_years", `Enter years from ${min} to ${max}, like 5`);
  const kind = said("kind") === "" ? null : oneOf(VEHICLE_KINDS, said("kind"));
  if (kind === undefined) refusals.refuse("kind", "Choose what they are, or leave it as it is");
  const typed: Partial<Settable> = {
    fleet_group: words("group"),
    depot: words("depot"),
    kind: kind ?? null,
    keep_years: years,
  };
  const errors = refusals.inOrder(FIELDS);
  if (errors.length > 0) return errors;
  const wanted = Object.fromEntries(Object.entries(typed).filter(([, value]) => value !== null));
  if (Object.keys(wanted).length === 0) return [{ field: "group", message: "Enter what is to change" }];
  const was = await changed(
    store,
    ids.map((id) => ({ id, ...wanted })),
  );
  return { said: `${vehicles(was.length)} changed`, undo: { what: "back", was: JSON.stringify(was) } };
}

function idsOf(said: readonly string[]): string[] {
  return [...new Set(said)].filter((id) => id !== "").slice(0, MOST_SELECTED);
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/**
 * Sets what is wanted of each vehicle; gives it as it was. Left out are vehicles that are not here, and those that
 * someone else changes at the same moment.
 */
async function changed(store: WorkspaceStore, wanted: readonly ({ id: string } & Partial<Settable>)[]) {
  const known = new Set((await store.fleet.labels(wanted.map(({ id }) => id))).keys());
  const was: ({ id: string } & Settable)[] = [];
  for (const { id, keep_years, ...particulars } of wanted.filter((one) => known.has(one.id))) {
    const vehicle = await store.vehicles.get(id);
    const { fleet_group, depot, kind, plan } = vehicle;
    const years = keep_years === undefined ? plan.keep_years : (keep_years ?? undefined);
    const input = { ...vehicleInputOf(vehicle), ...particulars, plan: { ...plan, keep_years: years } };
    const stored = await unlessOvertaken(store.vehicles.update(id, vehicle.version, input));
    if (!(stored instanceof Conflict)) was.push({ id, fleet_group, depot, kind, keep_years: plan.keep_years ?? null });
  }
  return was;
}

/** Archives vehicles or takes them out again; how many changed. */
async function archived(store: WorkspaceStore, ids: readonly string[], archive: boolean): Promise<number> {
  let count = 0;
  for (const id of (await store.fleet.labels(ids)).keys()) {
    const vehicle = await store.vehicles.get(id);
    if ((vehicle.archived_at !== null) === archive) continue;
    const { version } = vehicle;
    const change = archive ? store.vehicles.archive(id, version) : store.vehicles.unarchive(id, version);
    if (!((await unlessOvertaken(change)) instanceof Conflict)) count++;
  }
  return count;
}
