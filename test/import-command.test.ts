import { execFile } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import writeXlsxFile from "write-excel-file/universal";
import { DATABASE_FILE } from "../src/store/migrations.ts";
import { NodeSql } from "../src/store/node-sqlite.ts";
import type { Row } from "../src/store/sql.ts";
import { fleetCsv } from "./support/fleet-csv.ts";
import { ROOT } from "./support/paths.ts";

const run = promisify(execFile);

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "import-"));
});
afterEach(() => rmSync(folder, { recursive: true }));

/** What the command prints, and how it ends. */
async function imported(...args: string[]): Promise<{ code: number; said: string }> {
  const env = { ...process.env, DATA_DIR: join(folder, "records"), INIT_CWD: folder };
  try {
    const { stdout } = await run(process.execPath, [join(ROOT, "src/import.ts"), ...args], { env });
    return { code: 0, said: stdout };
  } catch (error) {
    const { code, stdout, stderr } = error as { code: number; stdout: string; stderr: string };
    return { code, said: `${stdout}${stderr}` };
  }
}

/** What a statement reads of the records. */
async function recorded(sql: string): Promise<Row[]> {
  const database = new NodeSql(join(folder, "records", DATABASE_FILE));
  try {
    return await database.all(sql);
  } finally {
    database.close();
  }
}

describe("npm run import", () => {
  test("puts a file in, and a second time nothing", async () => {
    writeFileSync(join(folder, "fleet.csv"), fleetCsv({ vehicles: 5, entries: 3, seed: 9, as_of: "2026-05-01" }));
    expect(await imported("fleet.csv")).toMatchObject({
      code: 0,
      said: expect.stringContaining("Added 5 vehicles and 15 entries; 0 entries were already here."),
    });
    expect((await imported("fleet.csv")).said).toContain(
      "Added 0 vehicles and 0 entries; 15 entries were already here.",
    );
  });

  test("asks for what the file leaves open, and takes it as options", async () => {
    writeFileSync(
      join(folder, "a.csv"),
      "Fahrzeug,refrigerant,nameplate,date,cooling\nVan 1,R-134a,30,3/4/2026,weak\n",
    );
    const { code, said } = await imported("a.csv");
    expect(code).toBe(1);
    for (const option of ['--map "HEADER=vehicle"', '--unit "nameplate=g"', "--dates day-first"])
      expect(said).toContain(option);
    const answered = await imported(
      "a.csv",
      "--map",
      "Fahrzeug=vehicle",
      "--unit",
      "nameplate=oz",
      "--dates",
      "day-first",
    );
    expect(answered.said).toContain("Added 1 vehicles and 1 entries");
  });

  test("takes header row, units, points, words, filling down and sentences as said, and every charge as logged", async () => {
    writeFileSync(
      join(folder, "a.csv"),
      [
        "vehicle,refrigerant,nameplate g,odometer,date,cooling,added g,work",
        "Fahrzeug,Gas,Charge g,Odo,Date,Zustand,Added g,Work",
        "Bus 1,R-134a,7200,84200,2025-05-01,schwach,1.250,",
        ",,,,2025-09-01,schwach,1.300,",
        ",,,,2026-04-01,ok,,",
        'Bus 2,R-134a,7200,,2026-04-02,,,"recharged 400 g, dye added"',
      ].join("\n"),
    );
    const said = [
      ...["--header", "2", "--map", "Fahrzeug=vehicle", "--map", "Zustand=cooling", "--unit", "Odo=mi"],
      ...["--points", "Added g=thousands", "--word", "schwach=weak", "--fill-down", "yes"],
    ];
    expect((await imported("a.csv", ...said.slice(0, 2))).said).toContain('--unit "Odo=mi"');
    const took = await imported("a.csv", ...said, "--agree", "text", "--all-logged");
    expect(took.said).toContain("Added 2 vehicles and 4 entries");
    expect(await recorded("SELECT date, cooling, added_g, dye FROM charge_log ORDER BY date")).toEqual([
      { date: "2025-05-01", cooling: "weak", added_g: 1250, dye: null },
      { date: "2025-09-01", cooling: "weak", added_g: 1300, dye: null },
      { date: "2026-04-01", cooling: "ok", added_g: null, dye: null },
      { date: "2026-04-02", cooling: null, added_g: 400, dye: "added" },
    ]);
    // 84,200 miles of 1.609 344 km (NIST SP 811).
    const [bus] = await recorded("SELECT odometer ->> '$.km' AS km FROM vehicles WHERE label = 'Bus 1'");
    expect(bus!.km).toBeCloseTo(135_506.765, 3);
    expect(await recorded("SELECT count(*) AS logged FROM fleet_logged")).toEqual([{ logged: 2 }]);
  });

  test("takes one sheet of a workbook, and a list of vehicles without entries", async () => {
    const text = (rows: string[][]) => rows.map((row) => row.map((value) => ({ value, type: String })));
    const vehicles = text([
      ["vehicle", "refrigerant", "nameplate g", "bought"],
      ["Van 1", "R-134a", "850", "3/14/2019"],
    ]);
    const other = text([["vehicle"], ["Van 9"]]);
    const book = await writeXlsxFile([
      { sheet: "Other", data: other },
      { sheet: "Fleet", data: vehicles },
    ]).toBlob();
    writeFileSync(join(folder, "a.xlsx"), new Uint8Array(await book.arrayBuffer()));
    expect((await imported("a.xlsx", "--sheet", "Fleet")).said).toContain("--vehicles-only");
    const took = await imported("a.xlsx", "--sheet", "Fleet", "--vehicles-only");
    expect(took.said).toContain("Added 1 vehicles and 0 entries");
    expect(await recorded("SELECT label FROM vehicles")).toEqual([{ label: "Van 1" }]);
  });

  test("puts nothing in while rows are refused, unless told to, and leaves them in a file to mend", async () => {
    writeFileSync(
      join(folder, "a.csv"),
      "vehicle,refrigerant,nameplate g,date,cooling\nVan 1,R-134a,850,2026-04-01,weak\nVan 2,R-22,850,2026-04-01,weak\n",
    );
    const { code, said } = await imported("a.csv");
    expect(code).toBe(1);
    expect(said).toContain('rejected, row 3, Refrigerant "R-22": Not one of R-134a, R-1234yf, R-12.');
    expect(said).toContain("Nothing was changed.");
    expect((await imported("a.csv", "--good-rows")).said).toContain("Added 1 vehicles and 1 entries");
    const refused = readFileSync(join(folder, "a.refused.csv"), "utf8");
    writeFileSync(join(folder, "a.refused.csv"), refused.replace("R-22", "R-134a"));
    expect((await imported("a.refused.csv")).said).toContain("Added 1 vehicles and 1 entries");
  });

  test("says what is wrong with a file, or with the command", async () => {
    expect(await imported()).toMatchObject({ code: 1, said: expect.stringContaining("npm run import -- FILE") });
    expect((await imported("nowhere.csv")).said).toContain("There is no file");
    expect((await imported("a.csv", "--what")).said).toContain("npm run import -- FILE");
    writeFileSync(join(folder, "empty.csv"), "");
    expect((await imported("empty.csv")).said).toContain("The file is empty.");
  });
});
