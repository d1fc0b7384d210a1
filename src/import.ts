/**
 * `npm run import -- FILE [EVENTS]`: vehicles and past top-offs from CSV files into the records of this machine. What
 * it cannot settle by itself it asks for by an option:
 *
 *     --map "Truck no.=vehicle"     a column by another name (again for each)
 *     --unit "nameplate=oz"         the unit of a column whose numbers have none
 *     --dates day-first             where day and month can be taken for each other (or month-first)
 *     --good-rows                   import the good rows although others are rejected
 */

import { createReadStream, existsSync, writeFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { FLEET_FIELDS, fleetFields, MASS_COLUMN_UNITS } from "../data/fleet-format.ts";
import { besidePerson, endWithMessage } from "./command-line.ts";
import { configFrom } from "./config.ts";
import { DATE_ORDERS, type DateOrder } from "./core/quantities/parse-when.ts";
import { DATABASE_FILE, openDatabase } from "./store/migrations.ts";
import { Refusal } from "./store/node-backup.ts";
import { type WorkspaceStore, workspaceStore } from "./store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "./store/workspaces.ts";
import { calendarDay } from "./web/edge/calendar-day.ts";
import { decodedText } from "./web/fleet/import/csv-text.ts";
import {
  type MappingAnswers,
  mappingOf,
  plainHeader,
  type Question,
  type Survey,
  surveyOf,
} from "./web/fleet/import/mapping.ts";
import { type FleetFile, type FleetReading, readFleetFiles } from "./web/fleet/import/reading.ts";
import { refusedCsv } from "./web/fleet/import/refused-csv.ts";
import { fieldLabel } from "./web/fleet/import/rows.ts";

/** Refused and mended rows that are printed of each. */
const ROWS_SHOWN = 20;
const USAGE =
  'Usage: npm run import -- FILE [EVENTS] [--map "HEADER=COLUMN"] [--unit "HEADER=g"] [--dates day-first] [--good-rows]';

interface Options {
  map: string[];
  unit: string[];
  dates: DateOrder | null;
  good_rows: boolean;
}

async function run(): Promise<void> {
  const { named, options } = readArguments();
  const files = await Promise.all(named.map((path) => fileAt(path, options)));
  const { data_dir } = configFrom(process.env);
  const sql = await openDatabase(join(resolve(data_dir), DATABASE_FILE));
  try {
    const now = () => new Date();
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
    await ensureLocalWorkspace({ sql, now, settings: { time_zone: timeZone } });
    const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
    const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });
    await importInto(store, files, options);
  } finally {
    sql.close();
  }
}

async function importInto(store: WorkspaceStore, files: readonly FleetFile[], { good_rows }: Options): Promise<void> {
  const { time_zone, prices } = await store.settings.get();
  const context = { today: calendarDay(new Date(), time_zone), can_net_g: prices.can_net_g ?? null };
  const reading = await readFleetFiles(files, await store.fleetImport.known(), context);
  tellRows(reading);
  const taken = reading.good + reading.mended.length;
  if (reading.refused.length > 0) saveRefused(reading);
  if (taken === 0) throw new Refusal("No row can be imported as it is. Nothing was changed.");
  if (reading.refused.length > 0 && !good_rows) {
    throw new Refusal(
      `Nothing was changed. Fix the rejected rows, or import the ${taken} good ${taken === 1 ? "row" : "rows"} with --good-rows.`,
    );
  }
  const counts = await store.fleetImport.add(reading.vehicles);
  console.log(
    `Added ${counts.vehicles_added} vehicles and ${counts.entries_added} entries; ${counts.entries_known} entries were already here.`,
  );
}

function readArguments(): { named: string[]; options: Options } {
  const { values, positionals } = parsedArgs();
  if (positionals.length < 1 || positionals.length > 2) throw new Refusal(USAGE);
  const dates = DATE_ORDERS.find((order) => order === values.dates) ?? null;
  if (values.dates !== undefined && dates === null) throw new Refusal(`--dates is ${DATE_ORDERS.join(" or ")}.`);
  const named = positionals.map(besidePerson);
  return { named, options: { map: values.map, unit: values.unit, dates, good_rows: values["good-rows"] } };
}

function parsedArgs() {
  try {
    return parseArgs({
      allowPositionals: true,
      options: {
        map: { type: "string", multiple: true, default: [] },
        unit: { type: "string", multiple: true, default: [] },
        dates: { type: "string" },
        "good-rows": { type: "boolean", default: false },
      },
    });
  } catch {
    throw new Refusal(USAGE);
  }
}

async function fileAt(path: string, options: Options): Promise<FleetFile> {
  const name = basename(path);
  if (!existsSync(path)) throw new Refusal(`There is no file ${path}`);
  const decoded = await decodedText(() => createReadStream(path));
  if (!decoded.ok) throw new Refusal(`${name}: ${decoded.message}`);
  const survey = await surveyOf(decoded.text);
  if (survey.broken !== null) throw new Refusal(`${name}: ${survey.broken}`);
  const { mapping, questions } = mappingOf(survey, answersOf(survey, options));
  if (questions.length > 0) {
    throw new Refusal(
      [`${name}: please answer first`, ...questions.map((question) => `  ${questionWords(question, survey)}`)].join(
        "\n",
      ),
    );
  }
  return { name, text: decoded.text, delimiter: survey.delimiter, mapping };
}

function answersOf({ columns }: Survey, { map, unit, dates }: Options): MappingAnswers {
  const columnsOf = (said: string): [indices: number[], value: string] => {
    const at = said.lastIndexOf("=");
    const header = plainHeader(said.slice(0, at));
    const found = columns.filter((column) => plainHeader(column.header) === header);
    return [found.map(({ index }) => index), said.slice(at + 1).trim()];
  };
  const fields: Record<number, (typeof FLEET_FIELDS)[number] | "none"> = {};
  for (const [indices, value] of map.map(columnsOf)) {
    const field = value === "none" ? value : FLEET_FIELDS.find((one) => one === value);
    if (field === undefined) throw new Refusal(`--map takes one of ${FLEET_FIELDS.join(", ")}, or none; not ${value}`);
    for (const index of indices) fields[index] = field;
  }
  const units: Record<number, (typeof MASS_COLUMN_UNITS)[number]> = {};
  for (const [indices, value] of unit.map(columnsOf)) {
    const one = MASS_COLUMN_UNITS.find((known) => known === value);
    if (one === undefined) throw new Refusal(`--unit takes one of ${MASS_COLUMN_UNITS.join(", ")}; not ${value}`);
    for (const index of indices) units[index] = one;
  }
  return { fields, units, date_order: dates };
}

function questionWords(question: Question, { columns }: Survey): string {
  const header = (index: number) => columns[index]?.header ?? "";
  switch (question.kind) {
    case "no-vehicle":
      return `No column names the vehicle. There are: ${columns.map(({ header }) => header).join(", ")}. Say --map "HEADER=vehicle"`;
    case "twice":
      return `${question.columns.map(header).join(" and ")} both mean ${fleetFields[question.field].label}. Leave one out: --map "HEADER=none"`;
    case "unit":
      return `The numbers in ${header(question.column)}, ${question.least} to ${question.largest}, have no unit. Say --unit "${header(question.column)}=g" (or kg, oz, lb)`;
    case "date-order":
      return `${question.example} in ${header(question.column)} could be two dates. Say --dates day-first or --dates month-first`;
  }
}

function tellRows({ files, good, mended, refused, repeated }: FleetReading): void {
  for (const { name, rows } of files) console.log(`${name}: ${rows} rows`);
  console.log(`${good} read as they are, ${mended.length} corrected, ${refused.length} rejected`);
  if (repeated > 0) console.log(`${repeated} repeat another row of the same vehicle; all are imported`);
  const place = ({ file, row }: { file: number; row: number }) =>
    files.length > 1 ? `${files[file]!.name} row ${row}` : `row ${row}`;
  for (const one of refused.slice(0, ROWS_SHOWN)) {
    for (const { field, cell, why } of one.faults)
      console.log(`  rejected, ${place(one)}, ${fieldLabel(field)} "${cell}": ${why}`);
  }
  for (const one of mended.slice(0, ROWS_SHOWN)) {
    for (const { field, cell, how } of one.mends)
      console.log(`  corrected, ${place(one)}, ${fieldLabel(field)} "${cell}": ${how}`);
  }
}

/** The refused rows beside where the person stands, to be mended and imported again. */
function saveRefused(reading: FleetReading): void {
  for (const [file, { name }] of reading.files.entries()) {
    if (reading.refused.every((row) => row.file !== file)) continue;
    const path = besidePerson(`${name.replace(/\.[^.]*$/, "")}.refused.csv`);
    writeFileSync(path, `\ufeff${refusedCsv(reading, file)}`);
    console.log(`The rejected rows are in ${path}`);
  }
}

await endWithMessage(run);
