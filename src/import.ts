/**
 * `npm run import -- FILE [EVENTS]`: vehicles and past top-offs from spreadsheets (.xlsx or CSV) into the records of
 * this machine. What it cannot settle by itself it asks for by an option:
 *
 *     --map "Truck no.=vehicle"     a column by another name (again for each)
 *     --unit "nameplate=oz"         the unit of a column whose numbers have none
 *     --points "added=thousands"    what 1.250 means in a column: thousands, or decimal
 *     --word "schwach=weak"         what a word in a cell means; none leaves the cell out
 *     --dates day-first             where day and month can be taken for each other (or month-first)
 *     --header 3                    the row with the headers, where it is another than we think
 *     --sheet "Log 2026"            a sheet of a workbook (again for each)
 *     --fill-down yes               whether an empty cell means the vehicle above (or no)
 *     --vehicles-only               there are no entries in the file
 *     --agree text                  import what was read out of sentences (text), amounts hard to believe (doubt)
 *     --good-rows                   import the good rows although others are rejected
 *     --all-logged                  every charge of these vehicles is in the file
 */

import { createReadStream, existsSync, writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { parseArgs } from "node:util";
import { COLUMN_UNITS, FLEET_FIELDS, fleetFields } from "../data/fleet-format.ts";
import { besidePerson, endWithMessage } from "./command-line.ts";
import { configFrom } from "./config.ts";
import { DATE_ORDERS, type DateOrder } from "./core/quantities/parse-when.ts";
import { DATABASE_FILE, openDatabase } from "./store/migrations.ts";
import { Refusal } from "./store/node-backup.ts";
import { type WorkspaceStore, workspaceStore } from "./store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "./store/workspaces.ts";
import { calendarDay } from "./web/edge/calendar-day.ts";
import { workbookSheets } from "./web/edge/workbook.ts";
import { plainHeader } from "./web/fleet/import/headers.ts";
import { sayLogged } from "./web/fleet/import/logged.ts";
import { type MappingAnswers, mappingOf, type OpenPoint, POINTS, type Points } from "./web/fleet/import/mapping.ts";
import { agreedVehicles, readFleetFiles } from "./web/fleet/import/reading.ts";
import { AGREEMENTS, type Agreement, type FleetFile, type FleetReading } from "./web/fleet/import/reading-shapes.ts";
import { refusedCsv } from "./web/fleet/import/refused-csv.ts";
import { reportOf } from "./web/fleet/import/report.ts";
import { fieldLabel } from "./web/fleet/import/rows.ts";
import { firstAnswers, type SentSheet, sentFile } from "./web/fleet/import/sent-file.ts";
import { headersKey, plainWord, type Survey, surveyOf } from "./web/fleet/import/survey.ts";

/** Refused and mended rows that are printed of each. */
const ROWS_SHOWN = 20;
const USAGE =
  'Usage: npm run import -- FILE [EVENTS] [--map "HEADER=COLUMN"] [--unit "HEADER=g"] [--points "HEADER=decimal"] [--word "WORD=weak"] [--dates day-first] [--header 3] [--sheet NAME] [--fill-down yes] [--vehicles-only] [--agree text] [--good-rows] [--all-logged]';

interface Options {
  map: string[];
  unit: string[];
  points: string[];
  word: string[];
  sheet: string[];
  dates: DateOrder | null;
  header: number | undefined;
  fill_down: boolean | undefined;
  vehicles_only: boolean;
  agree: ReadonlySet<Agreement>;
  good_rows: boolean;
  all_logged: boolean;
}

async function run(): Promise<void> {
  const { named, options } = readArguments();
  const files = (await Promise.all(named.map((path) => filesAt(path, options)))).flat();
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

async function importInto(store: WorkspaceStore, files: readonly SurveyedFile[], options: Options): Promise<void> {
  const { time_zone, prices } = await store.settings.get();
  const context = { today: calendarDay(new Date(), time_zone), can_net_g: prices.can_net_g ?? null };
  const reading = await readFleetFiles(files, await store.fleetImport.known(), context);
  tellRows(reading);
  const taken = reading.good + reading.mended.length;
  if (reading.refused.length > 0) saveRefused(reading);
  if (taken === 0) throw new Refusal("No row can be imported as it is. Nothing was changed.");
  if (reading.refused.length > 0 && !options.good_rows) {
    throw new Refusal(
      `Nothing was changed. Fix the rejected rows, or import the ${taken} good ${taken === 1 ? "row" : "rows"} with --good-rows.`,
    );
  }
  const left_out = AGREEMENTS.filter((one) => !options.agree.has(one) && rowsOf(reading, one) > 0);
  for (const one of left_out)
    console.log(`${rowsOf(reading, one)} rows ${NEEDED[one]} are left out. Say --agree ${one} to import them.`);
  const vehicles = agreedVehicles(reading, options.agree);
  const { corrections } = await store.fleetImport.preview(vehicles);
  const kept = files.map(({ name, survey }) => ({
    name,
    survey,
    key: headersKey(survey),
    kept: false,
    text: noText(),
    answers: {},
  }));
  const id = await store.imports.keep(kept);
  const counts = await store.fleetImport.add(vehicles, { import_id: id });
  const refused = reading.files.flatMap((_, file) =>
    reading.refused.some((row) => row.file === file) ? [{ file, text: refusedCsv(reading, file) }] : [],
  );
  await store.imports.finish(id, reportOf(reading, { counts, corrections }), refused, []);
  if (options.all_logged) await sayLogged(store, reading, context.today);
  console.log(
    `Added ${counts.vehicles_added} vehicles and ${counts.entries_added} entries; ${counts.entries_known} entries were already here.`,
  );
  if (counts.entries_corrected + counts.vehicles_changed > 0)
    console.log(
      `Corrected ${counts.entries_corrected} entries by their order; changed ${counts.vehicles_changed} vehicles.`,
    );
}

/** Of a file that a command reads, the text is not kept. */
async function* noText(): AsyncIterable<string> {}

const NEEDED = { text: "that were read out of sentences", doubt: "with amounts that are hard to believe" } as const;

function rowsOf(reading: FleetReading, one: Agreement): number {
  return (one === "text" ? reading.from_text : reading.doubted).length;
}

function readArguments(): { named: string[]; options: Options } {
  const { values, positionals } = parsedArgs();
  if (positionals.length < 1 || positionals.length > 2) throw new Refusal(USAGE);
  const dates = DATE_ORDERS.find((order) => order === values.dates) ?? null;
  if (values.dates !== undefined && dates === null) throw new Refusal(`--dates is ${DATE_ORDERS.join(" or ")}.`);
  const named = positionals.map(besidePerson);
  const fill = values["fill-down"];
  const options = {
    map: values.map,
    unit: values.unit,
    points: values.points,
    word: values.word,
    sheet: values.sheet,
    dates,
    header: values.header === undefined ? undefined : Number(values.header),
    fill_down: fill === undefined ? undefined : fill === "yes",
    vehicles_only: values["vehicles-only"],
    agree: new Set(AGREEMENTS.filter((one) => values.agree.includes(one))),
    good_rows: values["good-rows"],
    all_logged: values["all-logged"],
  };
  return { named, options };
}

function parsedArgs() {
  const several = { type: "string", multiple: true, default: [] as string[] } as const;
  const flag = { type: "boolean", default: false } as const;
  try {
    return parseArgs({
      allowPositionals: true,
      options: {
        map: several,
        unit: several,
        points: several,
        word: several,
        sheet: several,
        agree: several,
        dates: { type: "string" },
        header: { type: "string" },
        "fill-down": { type: "string" },
        "vehicles-only": flag,
        "good-rows": flag,
        "all-logged": flag,
      },
    });
  } catch {
    throw new Refusal(USAGE);
  }
}

/** A sheet to be read, with all that its survey says. */
type SurveyedFile = FleetFile & { survey: Survey };

async function filesAt(path: string, options: Options): Promise<SurveyedFile[]> {
  const file = basename(path);
  if (!existsSync(path)) throw new Refusal(`There is no file ${path}`);
  const read = await sentFile({
    name: file,
    bytes: () => createReadStream(path),
    whole: async () => new Uint8Array(await readFile(path)).buffer,
    workbook: workbookSheets,
  });
  if (!read.ok) throw new Refusal(`${file}: ${read.message}`);
  const first = firstAnswers(read.sheets);
  const named = read.sheets.filter(({ name }, i) =>
    options.sheet.length > 0 && read.sheets.length > 1
      ? options.sheet.some((one) => name === `${file}, ${one}`)
      : first[i]!.skip !== true,
  );
  if (named.length === 0)
    throw new Refusal(`${file} has no such sheet. There are: ${read.sheets.map(({ name }) => name).join("; ")}`);
  return Promise.all(named.map((sheet) => fileOf(sheet, options)));
}

async function fileOf({ name, text, survey: found }: SentSheet, options: Options): Promise<SurveyedFile> {
  const { header } = options;
  const survey =
    header === undefined || header === found.header_row
      ? found
      : await surveyOf(text, { typed_numbers: found.typed_numbers, header_row: header });
  const { mapping, questions } = mappingOf(survey, answersOf(survey, options));
  if (questions.length > 0) {
    throw new Refusal(
      [`${name}: please answer first`, ...questions.map((question) => `  ${questionWords(question, survey)}`)].join(
        "\n",
      ),
    );
  }
  return { name, text, survey, mapping };
}

function answersOf(
  { columns }: Survey,
  { map, unit, points, word, dates, fill_down, vehicles_only }: Options,
): MappingAnswers {
  const columnsOf = (said: string): [indices: number[], value: string] => {
    const at = said.lastIndexOf("=");
    const header = plainHeader(said.slice(0, at));
    const found = columns.filter((column) => plainHeader(column.header) === header);
    return [found.map(({ index }) => index), said.slice(at + 1).trim()];
  };
  const byColumn = <Value extends string>(option: string, said: string[], values: readonly Value[]) => {
    const of: Record<number, Value> = {};
    for (const [indices, value] of said.map(columnsOf)) {
      const one = values.find((known) => known === value);
      if (one === undefined) throw new Refusal(`--${option} takes one of ${values.join(", ")}; not ${value}`);
      for (const index of indices) of[index] = one;
    }
    return of;
  };
  const meant = Object.fromEntries(
    word.map((said) => {
      const at = said.lastIndexOf("=");
      const value = said.slice(at + 1).trim();
      return [plainWord(said.slice(0, at)), value === "none" ? "" : value];
    }),
  );
  return {
    fields: byColumn("map", map, [...FLEET_FIELDS, "none" as const]),
    units: byColumn("unit", unit, COLUMN_UNITS),
    points: byColumn<Points>("points", points, POINTS),
    words: Object.fromEntries(columns.map(({ index }) => [index, meant])),
    date_order: dates,
    fill_down,
    no_events: vehicles_only || undefined,
  };
}

function questionWords(question: OpenPoint, { columns }: Survey): string {
  const header = (index: number) => columns[index]?.header ?? "";
  switch (question.kind) {
    case "no-vehicle":
      return `No column names the vehicle. There are: ${columns.map(({ header }) => header).join(", ")}. Say --map "HEADER=vehicle"`;
    case "twice":
      return `${question.columns.map(header).join(" and ")} both mean ${fleetFields[question.field].label}. Leave one out: --map "HEADER=none"`;
    case "unit":
      return `The numbers in ${header(question.column)}, ${question.least} to ${question.largest}, have no unit. Say --unit "${header(question.column)}=g" (or kg, oz, lb)`;
    case "distance-unit":
      return `The numbers in ${header(question.column)}, like ${question.example}, have no unit. Say --unit "${header(question.column)}=mi" (or km)`;
    case "points":
      return `${question.example} in ${header(question.column)} is two numbers. Say --points "${header(question.column)}=thousands" or =decimal`;
    case "words":
      return question.words
        .map(
          (word) =>
            `“${word}” in ${header(question.column)} is no word of ours. Say --word "${word}=…" or "${word}=none"`,
        )
        .join("\n  ");
    case "fill-down":
      return `${question.blanks} rows have nothing in ${header(question.column)}. Say --fill-down yes (they are the vehicle's above) or no`;
    case "no-event":
      return `No column ${question.missing === "date" ? "has the date of the entries" : "says what was done"}. Say --map "HEADER=${question.missing === "date" ? "date" : "added"}", or --vehicles-only`;
    case "date-order":
      return `${question.example} in ${header(question.column)} could be two dates. Say --dates day-first or --dates month-first`;
  }
}

function tellRows({ files, good, mended, refused, repeated, asides, from_text, doubted, changes }: FleetReading): void {
  for (const { name, rows, not_taken } of files) {
    console.log(`${name}: ${rows} rows`);
    if (not_taken.length > 0) console.log(`  not taken: ${not_taken.join(", ")}`);
  }
  if (asides.length > 0) console.log(`${asides.length} lines of totals or text left out`);
  for (const { label, field, from, to } of changes.slice(0, ROWS_SHOWN))
    console.log(`  ${label}: ${fieldLabel(field)} ${from} → ${to}`);
  console.log(`${good} read as they are, ${mended.length} corrected, ${refused.length} rejected`);
  if (repeated > 0) console.log(`${repeated} repeat another row of the same vehicle; all are imported`);
  const place = ({ file, row }: { file: number; row: number }) =>
    files.length > 1 ? `${files[file]!.name} row ${row}` : `row ${row}`;
  for (const one of refused.slice(0, ROWS_SHOWN)) {
    for (const { field, cell, why } of one.faults)
      console.log(`  rejected, ${place(one)}, ${fieldLabel(field)} "${cell}": ${why}`);
  }
  for (const one of [...from_text, ...doubted].slice(0, ROWS_SHOWN)) {
    for (const { field, cell, how } of one.mends)
      console.log(`  to agree to, ${place(one)}, ${fieldLabel(field)} "${cell}": ${how}`);
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
