import { type Context, Hono } from "hono";
import { FLEET_EXAMPLE } from "../../../../data/fleet-example.ts";
import { COLUMN_UNITS, type ColumnUnit, FLEET_FIELDS, fleetFields } from "../../../../data/fleet-format.ts";
import { QuestionsPage, type ShownFile } from "../../../../views/fleet/import-questions.tsx";
import { ReportPage } from "../../../../views/fleet/import-report.tsx";
import type { ImportReport } from "../../../../views/fleet/import-shown.ts";
import { UploadPage } from "../../../../views/fleet/import-upload.tsx";
import type { FieldError } from "../../../../views/parts/error-summary.tsx";
import { Problem } from "../../../core/problem.ts";
import { DATE_ORDERS } from "../../../core/quantities/parse-when.ts";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../../edge/access.ts";
import { calendarDay } from "../../edge/calendar-day.ts";
import { csvOf } from "../../edge/csv.ts";
import { csvFile, xlsxFile } from "../../edge/csv-file.ts";
import type { AppEnv, Deps } from "../../edge/deps.ts";
import type { Agreed, FleetFiles } from "../../edge/fleet-files.ts";
import { oneFileAtATime, UPLOAD_BYTES, uploadLimit } from "../../edge/limits.ts";
import { answerPage } from "../../edge/page.ts";
import { formOf } from "../../forms/posted-form.ts";
import { uploadOf } from "../../forms/upload.ts";
import { beginReckoning } from "../background.ts";
import { fleetFilesHere, withHeaderAt } from "./files.ts";
import { keptReport, keptUndone } from "./kept-report.ts";
import { type MappingAnswers, mappingOf, type OpenPoint, POINTS, type Points } from "./mapping.ts";
import { AGREEMENTS } from "./reading-shapes.ts";
import { importsOf, isAsking, questionsAbout, type Waiting } from "./waiting.ts";

type Granted = Context<AppEnv & GrantedEnv>;

/** The fields of the form that take a file. */
const FILE_FIELDS = ["file", "events"] as const;

/** Upload, questions about the file, report, import; the list of imports, and the way back. */
export function fleetImportRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/import", requireRole("editor"), async (c) => answerPage(c, await uploadPage(deps, c.var.store, [])))
    .get("/fleet/import/example.csv", (c) =>
      csvFile(c, "fleet-example", csvOf(FLEET_EXAMPLE.header, FLEET_EXAMPLE.rows)),
    )
    .get("/fleet/import/example.xlsx", (c) =>
      xlsxFile(c, "fleet-example", [FLEET_EXAMPLE.header, ...FLEET_EXAMPLE.rows.map((row) => row.map(numbered))]),
    )
    .post("/fleet/import", requireRole("editor"), uploadLimit(deps), async (c) => {
      const { files } = await uploadOf(c);
      const sent = FILE_FIELDS.flatMap((field) => {
        const file = files.get(field);
        return file === undefined ? [] : [{ field, ...file }];
      });
      const again = async (errors: FieldError[]) => answerPage(c, await uploadPage(deps, c.var.store, errors), 422);
      if (sent.length === 0) return again([{ field: "file", message: "Choose a file to import" }]);
      const kept = await filesOf(deps, c).keep(sent);
      return kept.ok ? c.redirect(`/fleet/import/${kept.id}`, 303) : again(kept.errors);
    })
    .get("/fleet/import/:id", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const waiting = await importsOf(store).get(c.req.param("id"));
      if (waiting.report !== null)
        return answerPage(c, await donePage(deps, store, waiting, keptReport(waiting.report)));
      const asked = c.req.query("columns") !== undefined;
      if (asked || isAsking(waiting)) return answerPage(c, questionsPage(deps, waiting, []));
      const report = await filesOf(deps, c).look(waiting.id);
      return answerPage(c, ReportPage({ ...report, id: waiting.id, taken: null, asset: deps.asset }));
    })
    .post("/fleet/import/:id/answers", requireRole("editor"), (c) => answered(deps, c, c.req.param("id")))
    .post("/fleet/import/:id/take", requireRole("editor"), oneFileAtATime(deps), async (c) => {
      const waiting = await importsOf(c.var.store).get(c.req.param("id"));
      if (waiting.report === null) {
        if (isAsking(waiting)) throw new Problem("unreadable", "Answer the questions about the file first.");
        await take(deps, c, waiting.id);
      }
      return c.redirect(`/fleet/import/${waiting.id}`, 303);
    })
    .post("/fleet/import/:id/back", requireRole("editor"), async (c) => {
      await importsOf(c.var.store).remove(c.req.param("id"));
      return c.redirect("/fleet/import", 303);
    })
    .post("/fleet/import/:id/undo", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const id = c.req.param("id");
      await importsOf(store).undo(id);
      await beginReckoning(deps, store, await store.settings.get());
      return c.redirect(`/fleet/import/${id}`, 303);
    })
    .get("/fleet/import/:id/refused.csv", requireRole("editor"), (c) => refusedFile(deps, c, c.req.param("id")));
}

/** Beside the requests where that is possible. */
function filesOf(deps: Deps, c: Granted): FleetFiles {
  return deps.fleetFiles?.(c.var.access) ?? fleetFilesHere({ ...deps, store: c.var.store });
}

/** Imports that are being taken in: whoever presses again waits for it. */
const being_taken = new Map<string, Promise<void>>();

async function take(deps: Deps, c: Granted, id: string): Promise<void> {
  const { store } = c.var;
  const form = await formOf(c);
  let taking = being_taken.get(id);
  if (taking === undefined) {
    taking = filesOf(deps, c)
      .take(id, agreedIn(form))
      .finally(() => being_taken.delete(id));
    being_taken.set(id, taking);
  }
  await taking;
  await beginReckoning(deps, store, await store.settings.get());
}

/** Takes the answers to the questions about the files; another row with the headers asks anew. */
async function answered(deps: Deps, c: Granted, id: string) {
  const imports = importsOf(c.var.store);
  const waiting = await imports.get(id);
  const form = await formOf(c);
  const answers = waiting.files.map((_, number) => answersOf(form, number, waiting.answers[number] ?? {}));
  const files = [];
  for (const [number, file] of waiting.files.entries())
    files.push(await withHeaderAt(file, answers[number]!.header_row, () => imports.text(waiting.id, number)));
  const now = { ...waiting, files, answers };
  await imports.answer(waiting.id, answers, files);
  const moved = files.some((file, number) => file !== waiting.files[number]);
  const errors = moved ? [] : files.flatMap((_, number) => questionErrors(now, number));
  if (errors.length > 0) return answerPage(c, questionsPage(deps, now, errors), 422);
  return c.redirect(`/fleet/import/${waiting.id}${moved ? "?columns=1" : ""}`, 303);
}

/** The rows of a file that were rejected, or would be. */
async function refusedFile(deps: Deps, c: Granted, id: string) {
  const { store } = c.var;
  const waiting = await importsOf(store).get(id);
  const file = Number(/^\d{1,2}$/.exec(c.req.query("file") ?? "0")?.[0] ?? -1);
  if (waiting.report !== null) {
    let kept = "";
    for await (const part of importsOf(store).refused(waiting.id, file)) kept += part;
    if (kept === "") throw new Problem("not-found", "No row of this file was rejected.");
    return csvFile(c, "rejected-rows", kept);
  }
  if (waiting.files[file] === undefined || isAsking(waiting))
    throw new Problem("not-found", "The rejected rows are not known yet. Answer the questions about the file first.");
  return csvFile(c, "rejected-rows", await filesOf(deps, c).rejected(waiting.id, file));
}

/** Who is meant by the actor of an import: the name of their link or key. */
async function actorNames(store: WorkspaceStore): Promise<(actor: string) => string> {
  const labels = await store.accessKeys.labels();
  return (actor) => (actor === "local" ? "this machine" : (labels.get(actor) ?? "someone"));
}

function agreedIn(form: URLSearchParams): Agreed {
  return {
    agreements: AGREEMENTS.filter((one) => form.has(one)),
    corrections: form.has("corrections"),
    changes: form.has("changes"),
    logged: form.has("logged"),
  };
}

async function uploadPage(deps: Deps, store: WorkspaceStore, errors: FieldError[]) {
  const [imports, actors] = await Promise.all([importsOf(store).list(), actorNames(store)]);
  const { time_zone } = await store.settings.get();
  const read = imports.map((one) => ({ ...one, report: keptReport(one.report) }));
  const taken = read.map(({ id, files, report, taken_at, taken_by, undone_at }) => ({
    id,
    files: files.map(({ name }) => name),
    day: calendarDay(new Date(taken_at!), time_zone),
    who: actors(taken_by!),
    entries: report.counts.entries_added + report.counts.entries_corrected,
    vehicles: report.counts.vehicles_added,
    rows: report.files.reduce((sum, { rows }) => sum + rows, 0),
    undone: undone_at !== null,
  }));
  return UploadPage({ errors, taken, most_mb: UPLOAD_BYTES / 1024 / 1024, asset: deps.asset });
}

async function donePage(deps: Deps, store: WorkspaceStore, done: Waiting, report: ImportReport) {
  const { time_zone } = await store.settings.get();
  const actors = await actorNames(store);
  const { id, taken_at, taken_by, undone_at, undone_by, undone } = done;
  const at = (instant: string, by: string) => ({ day: calendarDay(new Date(instant), time_zone), who: actors(by) });
  return ReportPage({
    ...report,
    id,
    taken: {
      ...at(taken_at!, taken_by!),
      undone: undone === null ? null : { ...at(undone_at!, undone_by!), ...keptUndone(undone) },
    },
    asset: deps.asset,
  });
}

/** A field name such as `f0-column-3`, `f1-unit-2`, `f0-word-3-warm`: the sheet, the question, the column, a word. */
const FIELD_NAME = /^f(\d{1,2})-(column|unit|points|word)-(\d{1,3})(?:-(.+))?$/s;

/** A form's answers about one of the sheets; what the form does not ask stays as it was. */
function answersOf(form: URLSearchParams, number: number, before: MappingAnswers): MappingAnswers {
  const fields: Record<number, (typeof FLEET_FIELDS)[number] | "none"> = {};
  const units: Record<number, ColumnUnit> = { ...before.units };
  const points: Record<number, Points> = { ...before.points };
  const words: Record<number, Record<string, string>> = structuredClone({ ...before.words }) as never;
  for (const [name, value] of form) {
    const [, file, kind, column, word] = FIELD_NAME.exec(name) ?? [];
    if (file !== String(number)) continue;
    const index = Number(column);
    const field = value === "none" ? value : FLEET_FIELDS.find((one) => one === value);
    const unit = COLUMN_UNITS.find((one) => one === value);
    const point = POINTS.find((one) => one === value);
    if (kind === "column" && field !== undefined) fields[index] = field;
    if (kind === "unit" && unit !== undefined) units[index] = unit;
    if (kind === "points" && point !== undefined) points[index] = point;
    if (kind === "word" && word !== undefined && value !== "") {
      words[index] ??= {};
      words[index][word] = value === "none" ? "" : value;
    }
  }
  const said = (name: string) => form.get(`f${number}-${name}`);
  const yesNo = (name: string, was: boolean | undefined) => (said(name) === null ? was : said(name) === "yes");
  const date_order = DATE_ORDERS.find((order) => order === said("date")) ?? before.date_order ?? null;
  const header_row = Number(said("header")) || before.header_row;
  const moved = header_row !== undefined && said("header-was") !== null && said("header-was") !== String(header_row);
  return {
    skip: yesNo("skip", before.skip),
    header_row,
    ...(moved ? {} : { fields, units, points, words, date_order }),
    fill_down: yesNo("fill-down", before.fill_down),
    no_events: yesNo("no-events", before.no_events),
  };
}

function questionErrors(waiting: Waiting, number: number): FieldError[] {
  if (waiting.answers.every(({ skip }) => skip))
    return number === 0 ? [{ field: "f0-skip", message: "Choose at least one sheet to read" }] : [];
  return questionsAbout(waiting, number).map((question) => questionError(question, number));
}

function questionError(question: OpenPoint, number: number): FieldError {
  const of = `f${number}`;
  switch (question.kind) {
    case "no-vehicle":
      return { field: `${of}-column-0`, message: "Say which column names the vehicle" };
    case "twice":
      return {
        field: `${of}-column-${question.columns[1]}`,
        message: `Only one column can be “${fleetFields[question.field].label}”: leave the other out`,
      };
    case "unit":
    case "distance-unit":
      return {
        field: `${of}-unit-${question.column}`,
        message: `Choose the unit of ${fleetFields[question.field].label}`,
      };
    case "points":
      return { field: `${of}-points-${question.column}`, message: `Say what ${question.example} means` };
    case "words":
      return { field: `${of}-word-${question.column}-0`, message: `Say what “${question.words[0]}” means` };
    case "date-order":
      return { field: `${of}-date`, message: "Say whether the day or the month comes first" };
    case "fill-down":
      return { field: `${of}-fill-down`, message: "Say whose the rows without a vehicle are" };
    case "no-event":
      return { field: `${of}-no-events`, message: "Choose the column, or say that there are no entries in this file" };
  }
}

function questionsPage(deps: Deps, waiting: Waiting, errors: FieldError[]) {
  const files = waiting.files.map(({ name, survey, kept }, number): ShownFile => {
    const answers = waiting.answers[number] ?? {};
    // Answered questions stay on the page, so that an answer can be changed.
    const { questions } = mappingOf(survey, { fields: answers.fields ?? {} });
    const { fields } = mappingOf(survey, answers);
    return {
      name,
      rows: survey.rows,
      kept,
      skip: answers.skip ?? false,
      header_row: survey.header_row,
      head: survey.head,
      columns: survey.columns.map(({ index, header }, i) => ({ index, header, field: fields[i]! })),
      questions: questions.flatMap((one) => (one.kind === "no-vehicle" || one.kind === "twice" ? [] : [one])),
      answers,
    };
  });
  return QuestionsPage({ id: waiting.id, files, errors, asset: deps.asset });
}

/** Amounts of the sample as numbers, so that a spreadsheet can add them up. */
function numbered(cell: string): string | number {
  return /^\d{1,6}$/.test(cell) ? Number(cell) : cell;
}
