import { execFile } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
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
