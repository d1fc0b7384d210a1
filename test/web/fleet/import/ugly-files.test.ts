import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { zipSync } from "fflate";
import { describe, expect, test } from "vitest";
import writeXlsxFile from "write-excel-file/universal";
import { workbookSheets } from "../../../../src/web/edge/workbook.ts";
import { type MappingAnswers, mappingOf } from "../../../../src/web/fleet/import/mapping.ts";
import { agreedVehicles, readFleetFiles } from "../../../../src/web/fleet/import/reading.ts";
import { AGREEMENTS } from "../../../../src/web/fleet/import/reading-shapes.ts";
import { firstAnswers, sentFile } from "../../../../src/web/fleet/import/sent-file.ts";
import { TODAY } from "./files.ts";

/**
 * Spreadsheets as people have them, all invented, each with the report that is expected of it, worked out by hand from
 * what stands in the file. Amounts: 1 oz = 28.349 523 g, 1 lb = 453.592 37 g (NIST SP 811, appendix B.8).
 */
interface Expected {
  /** What is asked before anything is read, and the answers given here. */
  asked?: string[];
  answers?: MappingAnswers;
  /** Vehicle, day, grams added, what else was seen or done: all that is imported when everything is agreed to. */
  entries: string[];
  /** Row and a part of the reason. */
  refused?: [row: number, why: string][];
  /** Lines left out: row, and whether they are totals or text. */
  asides?: string[];
  /** Rows read out of sentences, and rows with amounts that are hard to believe. */
  from_text?: number[];
  doubted?: number[];
  not_taken?: string[];
  /** Of the vehicles: group, depot. */
  places?: string[];
}

const TWO = ["Van 1 2026-03-02 210", "Van 2 2026-03-03 190"];

const FILES: Record<string, Expected> = {
  "01-title-lines.csv": { entries: TWO },
  "02-totals.csv": { entries: TWO, asides: ["4 totals"] },
  "03-subtotals-and-footer.csv": {
    entries: TWO,
    asides: ["3 totals", "6 totals", "7 totals", "8 text"],
  },
  "04-header-again-on-each-page.csv": { entries: TWO },
  "05-merged-vehicle-cells.csv": {
    asked: ["fill-down"],
    answers: { fill_down: true },
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-14 180", "Van 1 2026-03-20 240", "Van 2 2026-03-03 190"],
  },
  "06-vehicle-as-heading.csv": {
    asked: ["fill-down"],
    answers: { fill_down: true },
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-14 180", "Van 2 2026-03-03 190"],
    asides: ["2 text", "5 text"],
  },
  "07-wide-numbered.csv": {
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-14 180", "Van 2 2026-03-03 190"],
  },
  "08-wide-unnumbered.csv": {
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-14 180", "Van 2 2026-03-03 190"],
  },
  "09-unit-column.csv": {
    entries: ["Van 1 2026-03-02 226.8", "Van 2 2026-03-03 190", "Van 3 2026-03-04 226.8"],
    refused: [[5, "No unit stands beside it"]],
  },
  "10-work-in-sentences.csv": {
    entries: ["Van 1 2026-03-02 544.3 dye", "Van 2 2026-03-03 850 recovered 380 hose"],
    refused: [[5, "No word says whether"]],
    from_text: [2, 3],
  },
  "11-sentence-in-amount.csv": {
    entries: ["Van 1 2026-03-02 340.2 dye", "Van 2 2026-03-03 190"],
    from_text: [2],
  },
  "12-depot-moves.csv": {
    entries: ["Van 1 2025-03-02 210", "Van 1 2026-03-02 180", "Van 1 2025-09-02 190"],
    places: ["- South yard"],
  },
  "13-names-by-case-and-space.csv": {
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-02 190", "van 2 2026-03-02 180"],
    places: ["Sprint Van -", "Sprint Van -"],
  },
  "14-nameplate-rounded.csv": {
    entries: ["Van 1 2025-03-02 210", "Van 1 2025-09-02 190"],
    refused: [[4, "Row 2 says 850 g for the same vehicle"]],
  },
  "15-unknown-words.csv": {
    asked: ["words"],
    answers: { words: { 4: { schwach: "weak" } } },
    entries: ["Van 1 2026-03-02 210 weak", "Van 2 2026-03-03 190 weak", "Van 3 2026-03-04 200 weak"],
  },
  "16-by-a-person.csv": { entries: TWO, not_taken: ["By"] },
  "17-excel-dates.csv": {
    entries: ["Van 1 2026-03-01 210", "Van 2 2026-03-02 190", "Van 3 2026-03-03 200"],
  },
  "18-points-as-thousands.csv": {
    asked: ["points"],
    answers: { points: { 4: "thousands" } },
    entries: ["Bus 1 2026-03-02 1250", "Bus 2 2026-03-03 980.5"],
  },
  "19-unquoted-thousands.csv": {
    entries: ["Bus 2 2026-03-03 980"],
    refused: [[2, "This row has 7 cells, the header 6"]],
  },
  "20-wrong-unit.csv": {
    entries: ["Van 1 2026-03-02 12", "Van 2 2026-03-03 11", "Van 3 2026-03-04 190"],
    doubted: [2, 3],
  },
  "21-two-days-running.csv": {
    entries: ["Van 1 2026-03-02 800", "Van 1 2026-03-03 800"],
    doubted: [3],
  },
  "22-spreadsheet-errors.csv": {
    entries: [],
    refused: [
      [2, "Not an amount"],
      [3, "Not an amount"],
    ],
  },
  "23-nothing-to-read.csv": {
    asked: ["no-vehicle", "distance-unit"],
    entries: [],
    refused: [
      [2, "Add the vehicle's name"],
      [3, "Add the vehicle's name"],
    ],
    not_taken: ["Tyres", "Washed"],
  },
  "24-no-date.csv": {
    asked: ["no-event"],
    answers: { fields: { 3: "date" } },
    entries: ["Van 1 2026-03-02 210"],
  },
  "25-no-amount.csv": {
    asked: ["no-event"],
    answers: { fields: { 4: "added" } },
    entries: ["Van 1 2026-03-02 210"],
  },
  "26-order-and-note.csv": {
    entries: ["Van 1 2026-03-02 310 WO2: hose looked oily", "Van 2 2026-03-03 190 WO3"],
  },
  "27-semicolons-decimal-comma.csv": { entries: ["Van 1 2026-03-02 210", "Van 2 2026-03-13 190"] },
  "28-blank-columns-and-lines.csv": { entries: TWO },
};

const FOLDER = join(import.meta.dirname, "ugly-files");

async function sheetsOf(name: string, content: Uint8Array) {
  const read = await sentFile({
    name,
    bytes: async function* () {
      for (let from = 0; from < content.length; from += 50) yield content.subarray(from, from + 50);
    },
    whole: async () => new Uint8Array(content).buffer,
    workbook: workbookSheets,
  });
  if (!read.ok) throw new Error(read.message);
  return read.sheets;
}

/** What a person would see of a file, in the words of the table above. */
async function reportOf(name: string, content: Uint8Array, answers: MappingAnswers = {}): Promise<Expected> {
  const sheets = await sheetsOf(name, content);
  const first = firstAnswers(sheets);
  const taken = sheets.filter((_, i) => first[i]!.skip !== true);
  const asked = taken.flatMap(({ survey }) => mappingOf(survey).questions.map(({ kind }) => kind));
  const files = taken.map(({ name, survey, text }) => ({
    name,
    survey,
    text,
    mapping: mappingOf(survey, answers).mapping,
  }));
  for (const { survey } of taken) {
    const open = mappingOf(survey, answers).questions;
    if (Object.keys(answers).length > 0) expect(open).toEqual([]);
  }
  const reading = await readFleetFiles(files, [], { today: TODAY, can_net_g: null });
  const vehicles = agreedVehicles(reading, new Set(AGREEMENTS));
  return {
    asked,
    entries: vehicles.flatMap(({ label, entries }) =>
      entries.map(({ date, added_g, recovered_g, dye, repair, cooling, note, order }) =>
        [
          label,
          date,
          added_g == null ? "" : Number(added_g.toFixed(1)),
          recovered_g == null ? "" : `recovered ${recovered_g}`,
          cooling,
          dye == null ? "" : "dye",
          repair,
          order === null ? "" : note,
        ]
          .filter((part) => part != null && part !== "")
          .join(" "),
      ),
    ),
    refused: reading.refused.map(({ row, faults }) => [row, faults[0]!.why]),
    asides: reading.asides.map(({ row, why }) => `${row} ${why}`),
    from_text: reading.from_text.map(({ row }) => row),
    doubted: reading.doubted.map(({ row }) => row),
    not_taken: reading.files.flatMap(({ not_taken }) => not_taken),
    places: vehicles.map(({ fleet_group, depot }) => `${fleet_group ?? "-"} ${depot ?? "-"}`),
  };
}

function holds(found: Expected, expected: Expected): void {
  const { answers: _, refused = [], places, ...rest } = expected;
  const nothing = { asked: [], asides: [], from_text: [], doubted: [], not_taken: [] };
  expect(found).toMatchObject({ ...nothing, ...rest, ...(places === undefined ? {} : { places }) });
  expect(found.refused).toEqual(refused.map(([row, why]) => [row, expect.stringContaining(why)]));
}

describe("ugly files", () => {
  test("are all in the table", () => {
    expect(readdirSync(FOLDER).toSorted((a, b) => a.localeCompare(b))).toEqual(Object.keys(FILES));
  });

  test.each(Object.entries(FILES))("%s", async (name, expected) => {
    holds(await reportOf(name, readFileSync(join(FOLDER, name)), expected.answers), expected);
  });
});

/** Cells of a workbook; a day is the number that a spreadsheet keeps, shown as a date. */
async function workbook(...sheets: { sheet: string; rows: (string | number | Date | null)[][] }[]) {
  const cells = (rows: (string | number | Date | null)[][]) =>
    rows.map((row) =>
      row.map((value) => {
        if (value === null) return null;
        if (value instanceof Date) return { value, type: Date, format: "dd/mm/yyyy" };
        return typeof value === "number" ? { value, type: Number } : { value, type: String };
      }),
    );
  const blob = await writeXlsxFile(sheets.map(({ sheet, rows }) => ({ data: cells(rows), sheet }))).toBlob();
  return new Uint8Array(await blob.arrayBuffer());
}

const day = (iso: string) => new Date(`${iso}T00:00:00Z`);
const HEADER = ["Vehicle", "Refrigerant", "Nameplate (g)", "Date", "Added (g)"];

describe("workbooks", () => {
  test("29: real dates, a title, a merged vehicle and a total", async () => {
    const content = await workbook({
      sheet: "Log",
      rows: [
        ["Refrigerant 2026", null, null, null, null],
        HEADER,
        ["Van 1", "R-134a", 850, day("2026-03-02"), 210],
        [null, null, null, day("2026-04-12"), 180.5],
        ["Total", null, null, null, 390.5],
      ],
    });
    const answers = { fill_down: true };
    holds(await reportOf("log.xlsx", content, answers), {
      // One empty cell may be a slip; nothing is asked, and the person can say so.
      entries: ["Van 1 2026-03-02 210", "Van 1 2026-04-12 180.5"],
      asides: ["5 totals"],
    });
  });

  test("30: vehicles and entries in two sheets, beside one that is about something else", async () => {
    const content = await workbook(
      { sheet: "Vehicles", rows: [HEADER.slice(0, 3), ["Van 1", "R-134a", 850], ["Van 2", "R-134a", 850]] },
      {
        sheet: "Log",
        rows: [
          ["Vehicle", "Date", "Added (g)"],
          ["Van 1", day("2026-03-02"), 210],
          ["Van 2", day("2026-03-03"), 190],
        ],
      },
      {
        sheet: "Tyres",
        rows: [
          ["Size", "Count"],
          ["205/65", 4],
        ],
      },
    );
    expect((await sheetsOf("fleet.xlsx", content)).map(({ name }) => name)).toEqual([
      "fleet.xlsx, Vehicles",
      "fleet.xlsx, Log",
      "fleet.xlsx, Tyres",
    ]);
    holds(await reportOf("fleet.xlsx", content), { entries: TWO });
  });

  test("31: numbers of three decimals are numbers, and nothing is asked", async () => {
    const content = await workbook({
      sheet: "Log",
      rows: [HEADER, ["Bus 1", "R-134a", 7200, day("2026-03-02"), 250.125]],
    });
    holds(await reportOf("log.xlsx", content), { entries: ["Bus 1 2026-03-02 250.1"] });
  });

  test("32: one that unpacks to more than a server has is refused before it is unpacked", async () => {
    const zeros = new Uint8Array(101 * 1024 * 1024);
    const bomb = zipSync({ "xl/workbook.xml": new Uint8Array(10), "xl/worksheets/sheet1.xml": zeros }, { level: 1 });
    expect(bomb.length).toBeLessThan(1_000_000);
    expect(await workbookSheets(new Uint8Array(bomb).buffer)).toEqual({
      ok: false,
      message: "Unpacked, this workbook is larger than 100 MB. Save the sheet as CSV, or cut it into parts.",
    });
  });

  test("33: an archive with something else in it, and a damaged workbook, are refused with what to do", async () => {
    const archive = zipSync({ "photos/one.txt": new Uint8Array(3) });
    expect(await workbookSheets(new Uint8Array(archive).buffer)).toMatchObject({
      ok: false,
      message: expect.stringContaining("This is an archive, not a spreadsheet"),
    });
    const whole = await workbook({ sheet: "Log", rows: [HEADER] });
    expect(await workbookSheets(whole.slice(0, whole.length / 2).buffer)).toMatchObject({
      ok: false,
      message: expect.stringContaining("cannot be opened"),
    });
  });
});
