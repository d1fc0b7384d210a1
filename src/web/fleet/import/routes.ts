import { Hono } from "hono";
import { FLEET_EXAMPLE } from "../../../../data/fleet-example.ts";
import { FLEET_FIELDS, fleetFields, MASS_COLUMN_UNITS } from "../../../../data/fleet-format.ts";
import { QuestionsPage, type ShownFile } from "../../../../views/fleet/import-questions.tsx";
import { ReportPage, type ReportPageProps, type ShownRow } from "../../../../views/fleet/import-report.tsx";
import { UploadPage } from "../../../../views/fleet/import-upload.tsx";
import type { FieldError } from "../../../../views/parts/error-summary.tsx";
import { Problem } from "../../../core/problem.ts";
import { DATE_ORDERS } from "../../../core/quantities/parse-when.ts";
import type { ImportCounts } from "../../../store/fleet-import.ts";
import type { Imports, WaitingImport } from "../../../store/imports.ts";
import { mayAct } from "../../../store/roles.ts";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import { requireRole } from "../../edge/access.ts";
import { csvOf } from "../../edge/csv.ts";
import { csvFile } from "../../edge/csv-file.ts";
import type { AppEnv, Deps } from "../../edge/deps.ts";
import { UPLOAD_BYTES, uploadLimit } from "../../edge/limits.ts";
import { answerPage } from "../../edge/page.ts";
import { formOf, uploadOf } from "../../forms/posted-form.ts";
import { todayIn } from "../../workspace.ts";
import { beginReckoning } from "../table.ts";
import { decodedText } from "./csv-text.ts";
import { type MappingAnswers, mappingOf, type Question, type Survey, surveyOf } from "./mapping.ts";
import { type FleetReading, readFleetFiles } from "./reading.ts";
import { refusedCsv } from "./refused-csv.ts";
import { fieldLabel } from "./rows.ts";

/** Rows of each kind in the report. */
const ROWS_SHOWN = 200;

/** What is kept of the report after the import. */
type Report = Omit<ReportPageProps, "id" | "done" | "asset" | "may_ask">;
type Waiting = WaitingImport<Survey, MappingAnswers, Report>;

/** Upload, questions about the file, report, import. */
export function fleetImportRoutes(deps: Deps) {
  return new Hono<AppEnv>()
    .get("/fleet/import", requireRole("editor"), (c) => answerPage(c, uploadPage(deps, [])))
    .get("/fleet/import/example.csv", (c) =>
      csvFile(c, "fleet-example", csvOf(FLEET_EXAMPLE.header, FLEET_EXAMPLE.rows)),
    )
    .post("/fleet/import", requireRole("editor"), uploadLimit(), async (c) => {
      const { files: sent } = await uploadOf(c);
      const read = await Promise.all(["file", "events"].map((field) => readUpload(field, sent.get(field) ?? null)));
      const errors = read.flatMap(({ error }) => (error === null ? [] : [error]));
      const files = read.flatMap(({ file }) => (file === null ? [] : [file]));
      if (files.length === 0 && errors.length === 0) errors.push({ field: "file", message: "Choose a file to import" });
      if (errors.length > 0) return answerPage(c, uploadPage(deps, errors), 422);
      const id = await importsOf(c.var.store).keep(files);
      return c.redirect(`/fleet/import/${id}`, 303);
    })
    .get("/fleet/import/:id", requireRole("editor"), async (c) => {
      const { store, access } = c.var;
      const waiting = await importsOf(store).get(c.req.param("id"));
      if (waiting.report !== null) {
        return answerPage(
          c,
          ReportPage({ ...waiting.report, id: waiting.id, done: true, may_ask: false, asset: deps.asset }),
        );
      }
      const asked = c.req.query("columns") !== undefined;
      if (asked || isAsking(waiting)) return answerPage(c, questionsPage(deps, waiting, []));
      const reading = await readingOf(deps, store, waiting);
      const counts = await store.fleetImport.preview(reading.vehicles);
      const report = reportOf(reading, counts);
      const may_ask = mayAct(access.role, "editor");
      return answerPage(c, ReportPage({ ...report, id: waiting.id, done: false, may_ask, asset: deps.asset }));
    })
    .post("/fleet/import/:id/answers", requireRole("editor"), async (c) => {
      const imports = importsOf(c.var.store);
      const waiting = await imports.get(c.req.param("id"));
      const form = await formOf(c);
      const answers = waiting.files.map((_, number) => answersOf(form, number));
      const answered = { ...waiting, answers };
      const errors = answered.files.flatMap((_, number) => questionErrors(answered, number));
      if (errors.length > 0) return answerPage(c, questionsPage(deps, answered, errors), 422);
      await imports.answer(waiting.id, answers);
      return c.redirect(`/fleet/import/${waiting.id}`, 303);
    })
    .post("/fleet/import/:id/take", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const waiting = await importsOf(store).get(c.req.param("id"));
      if (waiting.report === null) {
        if (isAsking(waiting)) throw new Problem("unreadable", "Answer the questions about the file first.");
        const reading = await readingOf(deps, store, waiting);
        const counts = await store.fleetImport.add(reading.vehicles);
        await importsOf(store).finish(waiting.id, reportOf(reading, counts));
        await beginReckoning(deps, store, await store.settings.get());
      }
      return c.redirect(`/fleet/import/${waiting.id}`, 303);
    })
    .post("/fleet/import/:id/back", requireRole("editor"), async (c) => {
      await importsOf(c.var.store).remove(c.req.param("id"));
      return c.redirect("/fleet/import", 303);
    })
    .get("/fleet/import/:id/refused.csv", requireRole("editor"), async (c) => {
      const { store } = c.var;
      const waiting = await importsOf(store).get(c.req.param("id"));
      const file = c.req.query("file") === "1" ? 1 : 0;
      if (waiting.report !== null || waiting.files[file] === undefined || isAsking(waiting)) {
        throw new Problem("not-found", "The refused rows are no longer kept. Send the file in again.");
      }
      return csvFile(c, "refused-rows", refusedCsv(await readingOf(deps, store, waiting), file));
    });
}

function importsOf(store: WorkspaceStore): Imports<Survey, MappingAnswers, Report> {
  return store.imports as Imports<Survey, MappingAnswers, Report>;
}

function uploadPage(deps: Deps, errors: FieldError[]) {
  return UploadPage({ errors, most_mb: UPLOAD_BYTES / 1024 / 1024, asset: deps.asset });
}

interface Upload {
  file: { name: string; survey: Survey; text: AsyncIterable<string> } | null;
  error: FieldError | null;
}

/** Surveys an uploaded file; choosing none is not an error here. */
async function readUpload(field: string, sent: File | string | null): Promise<Upload> {
  if (sent === null || typeof sent === "string" || (sent.name === "" && sent.size === 0))
    return { file: null, error: null };
  // A stream can be iterated on Node and on workerd; the types of browsers do not know that yet.
  const decoded = await decodedText(() => sent.stream() as unknown as AsyncIterable<Uint8Array>);
  if (!decoded.ok) return { file: null, error: { field, message: `${sent.name}: ${decoded.message}` } };
  const survey = await surveyOf(decoded.text);
  if (survey.broken !== null) return { file: null, error: { field, message: `${sent.name}: ${survey.broken}` } };
  return { file: { name: sent.name, survey, text: decoded.text() }, error: null };
}

function questionsAbout({ files, answers }: Waiting, number: number): Question[] {
  return mappingOf(files[number]!.survey, answers[number]).questions;
}

function isAsking(waiting: Waiting): boolean {
  return waiting.files.some((_, number) => questionsAbout(waiting, number).length > 0);
}

/** Reads the rows with the mapping. */
async function readingOf(deps: Deps, store: WorkspaceStore, waiting: Waiting): Promise<FleetReading> {
  const [workspace, known] = await Promise.all([store.settings.get(), store.fleetImport.known()]);
  const files = waiting.files.map(({ name, survey }, number) => ({
    name,
    delimiter: survey.delimiter,
    mapping: mappingOf(survey, waiting.answers[number]).mapping,
    text: () => store.imports.text(waiting.id, number),
  }));
  const today = todayIn(workspace, deps.now());
  return readFleetFiles(files, known, { today, can_net_g: workspace.prices.can_net_g ?? null });
}

function reportOf(reading: FleetReading, counts: ImportCounts): Report {
  const { files, good, mended, refused, repeated } = reading;
  return {
    files: files.map(({ name, rows }, file) => ({
      name,
      rows,
      refused: refused.filter((row) => row.file === file).length,
    })),
    good,
    mended: mended.length,
    refused: refused.length,
    repeated,
    refused_rows: refused.slice(0, ROWS_SHOWN).map(
      ({ file, row, faults }): ShownRow => ({
        file,
        row,
        said: faults.map(({ field, cell, why }) => ({ label: fieldLabel(field), cell, what: why })),
      }),
    ),
    mended_rows: mended.slice(0, ROWS_SHOWN).map(
      ({ file, row, mends }): ShownRow => ({
        file,
        row,
        said: mends.map(({ field, cell, how }) => ({ label: fieldLabel(field), cell, what: how })),
      }),
    ),
    counts,
  };
}

/** A field name such as `f0-column-3` or `f1-unit-2`: the file, the question, the column. */
const FIELD_NAME = /^f(\d)-(column|unit)-(\d{1,3})$/;

/** A form's answers about one of the files. */
function answersOf(form: URLSearchParams, number: number): MappingAnswers {
  const fields: Record<number, (typeof FLEET_FIELDS)[number] | "none"> = {};
  const units: Record<number, (typeof MASS_COLUMN_UNITS)[number]> = {};
  for (const [name, value] of form) {
    const [, file, kind, column] = FIELD_NAME.exec(name) ?? [];
    if (file !== String(number)) continue;
    const index = Number(column);
    const field = value === "none" ? value : FLEET_FIELDS.find((one) => one === value);
    const unit = MASS_COLUMN_UNITS.find((one) => one === value);
    if (kind === "column" && field !== undefined) fields[index] = field;
    if (kind === "unit" && unit !== undefined) units[index] = unit;
  }
  const date_order = DATE_ORDERS.find((order) => order === form.get(`f${number}-date`)) ?? null;
  return { fields, units, date_order };
}

function questionErrors(waiting: Waiting, number: number): FieldError[] {
  return questionsAbout(waiting, number).map((question) => questionError(question, number));
}

function questionError(question: Question, number: number): FieldError {
  switch (question.kind) {
    case "no-vehicle":
      return { field: `f${number}-column-0`, message: "Say which column names the vehicle" };
    case "twice":
      return {
        field: `f${number}-column-${question.columns[1]}`,
        message: `Only one column can be “${fleetFields[question.field].label}”: leave the other out`,
      };
    case "unit":
      return {
        field: `f${number}-unit-${question.column}`,
        message: `Choose the unit of ${fleetFields[question.field].label}`,
      };
    case "date-order":
      return { field: `f${number}-date`, message: "Say whether the day or the month comes first" };
  }
}

function questionsPage(deps: Deps, waiting: Waiting, errors: FieldError[]) {
  const files = waiting.files.map(({ name, survey }, number): ShownFile => {
    const answers = waiting.answers[number] ?? {};
    // Answered questions stay on the page, so that an answer can be changed.
    const { questions } = mappingOf(survey, { fields: answers.fields ?? {} });
    const headerOf = (index: number) => survey.columns[index]?.header || `Column ${index + 1}`;
    const { mapping } = mappingOf(survey, answers);
    const date = questions.find((question) => question.kind === "date-order");
    return {
      name,
      rows: survey.rows,
      broken: survey.broken,
      columns: survey.columns.map(({ index, header, samples }) => ({
        index,
        header,
        samples,
        field: answers.fields?.[index] ?? FLEET_FIELDS.find((field) => mapping.columns[field] === index) ?? "none",
      })),
      units: questions.flatMap((question) =>
        question.kind === "unit"
          ? [{ ...question, header: headerOf(question.column), value: answers.units?.[question.column] ?? "" }]
          : [],
      ),
      date:
        date === undefined
          ? null
          : { header: headerOf(date.column), example: date.example, value: answers.date_order ?? "" },
    };
  });
  return QuestionsPage({ id: waiting.id, files, errors, asset: deps.asset });
}
