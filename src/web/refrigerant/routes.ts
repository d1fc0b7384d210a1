import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { CylinderPage } from "../../../views/refrigerant/cylinder-page.tsx";
import type {
  CylinderFields,
  MoveFields,
  RefrigerantWorkFields,
} from "../../../views/refrigerant/refrigerant-fields.ts";
import { RefrigerantPage } from "../../../views/refrigerant/refrigerant-page.tsx";
import { SheetPage } from "../../../views/refrigerant/sheet-page.tsx";
import { WorkPage } from "../../../views/refrigerant/work-page.tsx";
import { formatDate } from "../../core/quantities/dates.ts";
import { typedMass } from "../../core/quantities/typed-mass.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { balanceOfYear, stockOf } from "../../core/refrigerant/cylinders.ts";
import { Conflict, notFound } from "../../store/errors.ts";
import type { Cylinder, CylinderLine, WorkLine } from "../../store/refrigerant-log.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import { csvFile } from "../edge/csv-file.ts";
import type { Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import type { DayContext } from "../forms/form-reading.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { dayContextOf, unitsOf } from "../workspace.ts";
import {
  cylinderFields,
  moveFields,
  readCylinder,
  readMove,
  readRefrigerantWork,
  workFields,
} from "./refrigerant-forms.ts";
import { balancesOf, sheetCsv, sheetLines } from "./sheet.ts";

type Granted = Context<GrantedEnv>;

const NO_CYLINDER: CylinderFields = { name: "", refrigerant: "", condition: "", most: "", retired: false };

/** The refrigerant log of a shop: `/refrigerant`. */
export function refrigerantRoutes(deps: Deps) {
  const viewer = requireRole("viewer");
  const editor = requireRole("editor");
  const cylinder = "/refrigerant/cylinders/:id";
  return new Hono<GrantedEnv>()
    .get("/refrigerant", viewer, (c) => answerLog(c, deps, NO_CYLINDER, []))
    .post("/refrigerant/cylinders", editor, async (c) => {
      const form = await formOf(c);
      const fields = cylinderFields(form);
      const { units } = await manner(c, deps);
      const read = readCylinder(fields, units);
      if (!read.ok) return answerLog(c, deps, fields, read.errors);
      const { id } = await c.var.store.refrigerantLog.create(read.input, submitKeyOf(form));
      return c.redirect(`/refrigerant/cylinders/${id}`, 303);
    })
    .get(cylinder, viewer, async (c) =>
      answerCylinder(c, deps, await c.var.store.refrigerantLog.cylinder(c.req.param("id"))),
    )
    .post(cylinder, editor, (c) => editCylinder(c, deps))
    .post(`${cylinder}/moves`, editor, (c) => recordMove(c, deps))
    .post(`${cylinder}/moves/:move/removal`, editor, async (c) => {
      const id = c.req.param("id");
      await c.var.store.refrigerantLog.removeMove(id, c.req.param("move"));
      return c.redirect(`/refrigerant/cylinders/${id}`, 303);
    })
    .get("/refrigerant/years/:year", viewer, async (c) => {
      const { units } = await manner(c, deps);
      const { letterhead } = await c.var.store.letterheads.get();
      const may_change = mayAct(c.var.access.role, "editor");
      return answerPage(c, SheetPage({ ...(await sheetOf(c)), letterhead, units, may_change, asset: deps.asset }));
    })
    .get("/refrigerant/years/:year/sheet.csv", viewer, async (c) => {
      const { year, lines, balances } = await sheetOf(c);
      return csvFile(c, `refrigerant-log-${year}`, sheetCsv(lines, balances));
    })
    .get("/refrigerant/work/:log", editor, async (c) => {
      const entry = await c.var.store.refrigerantLog.entry(c.req.param("log"));
      return answerWork(c, deps, entry, fieldsOfWork(entry), {});
    })
    .post("/refrigerant/work/:log", editor, (c) => nameWork(c, deps));
}

async function manner(c: Granted, deps: Deps): Promise<{ units: UnitSystem; days: DayContext; today: string }> {
  const workspace = await c.var.store.settings.get();
  const days = dayContextOf(workspace, deps.now());
  return { units: unitsOf(workspace), days, today: days.today };
}

async function answerLog(c: Granted, deps: Deps, fields: CylinderFields, errors: FieldError[]): Promise<Response> {
  const { refrigerantLog } = c.var.store;
  const { units, today } = await manner(c, deps);
  const year = Number(today.slice(0, 4));
  const [cylinders, lines, entries] = await Promise.all([
    refrigerantLog.cylinders(),
    refrigerantLog.lines(),
    refrigerantLog.year(year),
  ]);
  const by_cylinder = Map.groupBy(lines, ({ cylinder_id }) => cylinder_id);
  const page = RefrigerantPage({
    cylinders: cylinders.map((cylinder) => shownCylinder(cylinder, by_cylinder.get(cylinder.id) ?? [])),
    unnamed: entries.filter(isUnnamed),
    year,
    units,
    fields,
    errors,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, errors.length > 0 ? 422 : 200);
}

/** Fields of an entry without technician or cylinder; cans have no cylinder. */
function isUnnamed({ technician, recovered_g, recovered_into, added_g, added_by, charged_from }: WorkLine): boolean {
  const recovered = (recovered_g ?? 0) > 0 && recovered_into === null;
  const charged = (added_g ?? 0) > 0 && added_by !== "cans" && charged_from === null;
  return technician === "" || recovered || charged;
}

function shownCylinder({ retired_at, ...cylinder }: Cylinder, lines: readonly CylinderLine[]) {
  return { ...cylinder, stock_g: stockOf(lines), retired: retired_at !== null };
}

interface CylinderState {
  fields?: CylinderFields;
  move_fields?: MoveFields;
  asks?: boolean;
  errors?: FieldError[];
  changed?: boolean;
}

async function answerCylinder(
  c: Granted,
  deps: Deps,
  cylinder: Cylinder,
  { fields, move_fields, asks = false, errors = [], changed = false }: CylinderState = {},
): Promise<Response> {
  const { units, today } = await manner(c, deps);
  const lines = await c.var.store.refrigerantLog.lines(cylinder.id);
  const years = [...new Set([today, ...lines.map(({ date }) => date)].map((date) => Number(date.slice(0, 4))))];
  const page = CylinderPage({
    cylinder: shownCylinder(cylinder, lines),
    moves: lines.toReversed(),
    balances: years.toSorted((a, b) => b - a).map((year) => ({ year, balance: balanceOfYear(lines, year) })),
    units,
    fields: fields ?? fieldsOfCylinder(cylinder, units),
    // No preset amount: it must be read off the scale.
    move_fields: move_fields ?? { kind: "", when: formatDate(today), amount: "", move_note: "" },
    asks,
    errors,
    changed,
    may_change: mayAct(c.var.access.role, "editor"),
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

function fieldsOfCylinder(
  { name, refrigerant, condition, most_g, retired_at }: Cylinder,
  units: UnitSystem,
): CylinderFields {
  const most = most_g === null ? "" : typedMass(most_g, units);
  return { name, refrigerant, condition, most, retired: retired_at !== null };
}

async function editCylinder(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const { refrigerantLog } = c.var.store;
  const cylinder = await refrigerantLog.cylinder(c.req.param("id") ?? "");
  const fields = cylinderFields(form);
  const version = versionOf(form);
  const { units } = await manner(c, deps);
  const read = readCylinder(fields, units);
  if (!read.ok) return answerCylinder(c, deps, { ...cylinder, version }, { fields, errors: read.errors });
  try {
    await refrigerantLog.update(cylinder.id, version, read.input, submitKeyOf(form));
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    return answerCylinder(c, deps, error.current as Cylinder, { fields, changed: true });
  }
  return c.redirect(`/refrigerant/cylinders/${cylinder.id}`, 303);
}

async function recordMove(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const { refrigerantLog } = c.var.store;
  const cylinder = await refrigerantLog.cylinder(c.req.param("id") ?? "");
  const fields = moveFields(form);
  const { units: system, days } = await manner(c, deps);
  const stock_g = stockOf(await refrigerantLog.lines(cylinder.id));
  const read = readMove(fields, { system, days, cylinder, stock_g, sure: form.has("sure") });
  if (!read.ok)
    return answerCylinder(c, deps, cylinder, { move_fields: fields, errors: read.errors, asks: read.asks ?? false });
  await refrigerantLog.addMove(cylinder.id, read.input, submitKeyOf(form));
  return c.redirect(`/refrigerant/cylinders/${cylinder.id}`, 303);
}

/** The entries and balances of the year of the address. Throws `Problem` not-found for what is no year. */
async function sheetOf(c: Granted) {
  const typed = c.req.param("year") ?? "";
  if (!/^(?:19|20)\d\d$/.test(typed)) throw notFound("year");
  const year = Number(typed);
  const { refrigerantLog } = c.var.store;
  const [cylinders, moves, entries] = await Promise.all([
    refrigerantLog.cylinders(),
    refrigerantLog.lines(),
    refrigerantLog.year(year),
  ]);
  return { year, lines: sheetLines(entries, cylinders), balances: balancesOf(cylinders, moves, year) };
}

function fieldsOfWork({ technician, certificate, recovered_into, charged_from }: WorkLine): RefrigerantWorkFields {
  return { technician, certificate, recovered_into: recovered_into ?? "", charged_from: charged_from ?? "" };
}

async function answerWork(
  c: Granted,
  deps: Deps,
  entry: WorkLine,
  fields: RefrigerantWorkFields,
  { errors = [], changed = false }: { errors?: FieldError[]; changed?: boolean },
): Promise<Response> {
  const { units } = await manner(c, deps);
  const cylinders = await c.var.store.refrigerantLog.cylinders();
  const chosen = [entry.recovered_into, entry.charged_from];
  const page = WorkPage({
    entry,
    fields,
    cylinders: cylinders.filter(({ id, retired_at }) => retired_at === null || chosen.includes(id)),
    units,
    errors,
    changed,
    submit_key: newSubmitKey(deps.random),
    asset: deps.asset,
  });
  return answerPage(c, page, changed ? 409 : errors.length > 0 ? 422 : 200);
}

async function nameWork(c: Granted, deps: Deps): Promise<Response> {
  const form = await formOf(c);
  const { refrigerantLog } = c.var.store;
  const entry = await refrigerantLog.entry(c.req.param("log") ?? "");
  const fields = workFields(form);
  const version = versionOf(form);
  const read = readRefrigerantWork(fields, await refrigerantLog.cylinders(), entry.refrigerant);
  if (!read.ok) return answerWork(c, deps, { ...entry, version }, fields, { errors: read.errors });
  try {
    await refrigerantLog.setWork(entry.log_id, version, read.input, submitKeyOf(form));
  } catch (error) {
    if (!(error instanceof Conflict)) throw error;
    return answerWork(c, deps, error.current as WorkLine, fields, { changed: true });
  }
  return c.redirect("/refrigerant", 303);
}
