import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, stat, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { DATABASE_FILE, openDatabase } from "../../src/store/migrations.ts";
import { ROOT } from "../support/paths.ts";
import { newStore } from "./engines.ts";
import { type RecordProcess, startRecordServer } from "./record-process.ts";
import { CAN, VAN } from "./samples.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-backup-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** One data folder for each test. */
let data: string;
let database: string;
beforeEach(async () => {
  data = await mkdtemp(join(folder, "data-"));
  database = join(data, DATABASE_FILE);
});

interface Ended {
  code: number;
  output: string;
}

/** Runs `npm run NAME -- …args` as a person does, standing in the data folder. */
function run(name: "backup" | "restore", ...args: string[]): Promise<Ended> {
  const env = { ...process.env, DATA_DIR: data, INIT_CWD: data };
  return new Promise((resolve) => {
    execFile(process.execPath, [join(ROOT, `src/${name}.ts`), ...args], { cwd: ROOT, env }, (error, out, err) =>
      resolve({ code: error === null ? 0 : Number(error.code), output: out + err }),
    );
  });
}

async function fill(file: string, labels: readonly string[]): Promise<void> {
  const sql = await openDatabase(file);
  const store = await newStore(sql);
  for (const label of labels) await store.vehicles.create({ ...VAN, label }, { charge_log: [CAN] });
  sql.close();
}

async function labelsIn(file: string): Promise<string[]> {
  const sql = await openDatabase(file);
  const rows = await sql.all<{ label: string }>("SELECT label FROM vehicles ORDER BY label");
  sql.close();
  return rows.map(({ label }) => label);
}

describe("backup", () => {
  test("is one file with all records, for the owner's eyes only", async () => {
    await fill(database, ["A", "B"]);
    const ended = await run("backup", "safe/copy.sqlite");
    const copy = join(data, "safe/copy.sqlite");
    expect(ended).toEqual({ code: 0, output: `Backed up 2 vehicles to ${copy}\n` });
    expect(await readdir(join(data, "safe"))).toEqual(["copy.sqlite"]);
    expect((await stat(copy)).mode & 0o777).toBe(0o600);
    expect(await labelsIn(copy)).toEqual(["A", "B"]);
  });

  test("while a server writes holds whole records of one moment, and holds up no write", async () => {
    const server = await startRecordServer(database);
    const until = new AbortController();
    let sent = 0;
    const write = async () => {
      while (!until.signal.aborted) {
        const label = `v${sent++}`;
        const answer = await fetch(server.url, { method: "POST", body: JSON.stringify({ label, submit_key: label }) });
        expect(answer.status).toBe(201);
      }
    };
    const writers = Promise.all([write(), write(), write()]);
    for (let i = 0; i < 3; i += 1) expect((await run("backup", `copy-${i}.sqlite`)).code).toBe(0);
    until.abort();
    await writers;
    await server.kill();

    const counts = [];
    for (let i = 0; i < 3; i += 1) {
      const sql = await openDatabase(join(data, `copy-${i}.sqlite`));
      const [row] = await sql.all<{ vehicles: number; lines: number; notes: number }>(
        `SELECT (SELECT count(*) FROM vehicles) AS vehicles, (SELECT count(*) FROM charge_log) AS lines,
           (SELECT count(*) FROM notes) AS notes`,
      );
      sql.close();
      expect(row).toEqual({ vehicles: row!.vehicles, lines: 3 * row!.vehicles, notes: row!.vehicles });
      counts.push(row!.vehicles);
    }
    expect(counts[0]).toBeLessThan(counts[2]!);
  });

  test("does not take the place of a file unless told to", async () => {
    await fill(database, ["A"]);
    const copy = join(data, "copy.sqlite");
    await writeFile(copy, "precious");
    const refused = await run("backup", "copy.sqlite");
    expect(refused.code).toBe(1);
    expect(refused.output).toMatch(/is there already.*--replace/);
    expect(await readFile(copy, "utf8")).toBe("precious");
    expect((await run("backup", "copy.sqlite", "--replace")).code).toBe(0);
    expect(await labelsIn(copy)).toEqual(["A"]);
  });

  test("without records, of a damaged file, or without a name says what is wrong", async () => {
    expect(await run("backup", "copy.sqlite")).toEqual({ code: 1, output: `There are no records at ${database}.\n` });
    expect(existsSync(database)).toBe(false);
    await writeFile(database, "no database ".repeat(1000));
    const damaged = await run("backup", "copy.sqlite");
    expect(damaged.code).toBe(1);
    expect(damaged.output).toMatch(/damaged/);
    expect(await readdir(data)).toEqual([DATABASE_FILE]);
    for (const args of [[], ["a", "b"], ["--everything"]])
      expect(await run("backup", ...args)).toEqual({
        code: 1,
        output: "Usage: npm run backup -- FILE [--replace]\n",
      });
  });
});

describe("restore", () => {
  test("into an empty place brings the records back", async () => {
    await fill(database, ["A", "B"]);
    await run("backup", "copy.sqlite");
    await rm(database);
    expect(await run("restore", "copy.sqlite")).toEqual({ code: 0, output: `Restored 2 vehicles to ${database}\n` });
    expect(await labelsIn(database)).toEqual(["A", "B"]);
    expect(await labelsIn(join(data, "copy.sqlite"))).toEqual(["A", "B"]);
  });

  test("over records asks for a flag, and keeps what was there", async () => {
    await fill(database, ["A"]);
    await run("backup", "copy.sqlite");
    await fill(database, ["B"]);
    const refused = await run("restore", "copy.sqlite");
    expect(refused.code).toBe(1);
    expect(refused.output).toMatch(/Add --replace/);
    expect(await labelsIn(database)).toEqual(["A", "B"]);

    const done = await run("restore", "copy.sqlite", "--replace");
    expect(done.code).toBe(0);
    const kept = /kept at (\S+)/.exec(done.output)?.[1] as string;
    expect(kept).toMatch(/seepwise\.sqlite\.before-\d{8}T\d{6}Z$/);
    expect(await labelsIn(database)).toEqual(["A"]);
    expect(await labelsIn(kept)).toEqual(["A", "B"]);
  });

  test("keeps what a killed server had not yet moved out of its log", async () => {
    await fill(join(data, "other.sqlite"), ["A"]);
    const server = await startRecordServer(database);
    await fetch(server.url, { method: "POST", body: JSON.stringify({ label: "late", submit_key: "late" }) });
    await server.kill();
    const done = await run("restore", "other.sqlite", "--replace");
    expect(done.code).toBe(0);
    const kept = /kept at (\S+)/.exec(done.output)?.[1] as string;
    expect(await labelsIn(kept)).toEqual(["late"]);
    expect(await labelsIn(database)).toEqual(["A"]);
  });

  describe("while a server runs", () => {
    let server: RecordProcess;
    beforeEach(async () => {
      await fill(database, ["A"]);
      await run("backup", "copy.sqlite");
      server = await startRecordServer(database);
      await fetch(server.url);
    });

    test("refuses, and the server goes on with its records", async () => {
      const refused = await run("restore", "copy.sqlite", "--replace");
      expect(refused.code).toBe(1);
      expect(refused.output).toMatch(/A server is using .* Stop it first/);
      const post = { method: "POST", body: JSON.stringify({ label: "B", submit_key: "B" }) };
      expect((await fetch(server.url, post)).status).toBe(201);
      await server.kill();
      expect(await labelsIn(database)).toEqual(["A", "B"]);
    });
  });

  test.each([
    ["no backup", async () => {}, /There is no backup at/],
    ["a text", (file: string) => writeFile(file, "text ".repeat(2000)), /not a database, or is damaged/],
    [
      "half a backup",
      async (file: string) => {
        await run("backup", "copy.sqlite");
        await copyFile(join(data, "copy.sqlite"), file);
        await truncate(file, 8192 * 3);
      },
      /damaged/,
    ],
    [
      "a database that is in use",
      async (file: string) => {
        await copyFile(database, file);
        await writeFile(`${file}-wal`, "something");
      },
      /is in use, not a backup/,
    ],
    ["a folder", (file: string) => mkdir(file), /There is no backup at/],
  ])("of %s refuses and leaves the records alone", async (_what, make, message) => {
    await fill(database, ["A"]);
    await make(join(data, "from.sqlite"));
    const refused = await run("restore", "from.sqlite", "--replace");
    expect(refused.code).toBe(1);
    expect(refused.output).toMatch(message);
    expect(await labelsIn(database)).toEqual(["A"]);
    const left = (await readdir(data)).filter((name) => name.includes(".part") || name.includes(".before-"));
    expect(left).toEqual([]);
  });

  test("replaces a damaged file, which is what it is for", async () => {
    await fill(database, ["A"]);
    await run("backup", "copy.sqlite");
    await writeFile(database, "garbage ".repeat(1000));
    const done = await run("restore", "copy.sqlite", "--replace");
    expect(done.code).toBe(0);
    expect(await labelsIn(database)).toEqual(["A"]);
    expect(await readFile(/kept at (\S+)/.exec(done.output)?.[1] as string, "utf8")).toMatch(/^garbage/);
  });
});
