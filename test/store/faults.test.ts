import { execFileSync } from "node:child_process";
import { chmod, chown, mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DatabaseSync } from "node:sqlite";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { AssessAnswer } from "../../src/core/question/contract.ts";
import { StoreFailure } from "../../src/store/errors.ts";
import { LazySql } from "../../src/store/lazy-sql.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import type { Sql } from "../../src/store/sql.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "./engines.ts";
import { startRecordServer } from "./record-process.ts";
import { CAN, VAN } from "./samples.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-faults-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const root = process.getuid?.() === 0;
/** An account without rights, for what root may do anyway. */
const NOBODY = 65_534;

async function failureOf(work: Promise<unknown>): Promise<StoreFailure> {
  const error: unknown = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  if (!(error instanceof StoreFailure)) throw new Error(`Expected a StoreFailure, got ${error}`);
  return error;
}

/** Adds vehicles with records until the database says why it cannot, and gives what was kept and that reason. */
async function fillUp(store: WorkspaceStore): Promise<{ kept: string[]; failure: StoreFailure }> {
  const kept: string[] = [];
  for (let i = 0; i < 100_000; i += 1) {
    const label = `Vehicle ${i}`;
    const adding = store.vehicles.create(
      { ...VAN, label },
      { charge_log: [CAN, CAN], notes: [{ body: "x".repeat(5000) }] },
    );
    try {
      await adding;
      kept.push(label);
    } catch {
      return { kept, failure: await failureOf(adding) };
    }
  }
  throw new Error("There was room for everything");
}

/** Nothing that was kept is lost, nothing is half there. */
async function expectIntact(sql: Sql, store: WorkspaceStore, kept: readonly string[]) {
  expect(await sql.all("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
  const { items } = await store.vehicles.list({ limit: kept.length + 10 });
  expect(new Set(items.map(({ label }) => label))).toEqual(new Set(kept));
  for (const { id } of items) expect(await store.chargeLog.list(id)).toHaveLength(2);
}

describe("no room", () => {
  test("a database that may not grow says so, keeps what it has, and goes on once it may", async () => {
    const sql = await openDatabase(join(folder, "small.sqlite"));
    const store = await newStore(sql);
    await sql.all("PRAGMA max_page_count = 200");
    const { kept, failure } = await fillUp(store);
    expect(failure).toMatchObject({
      fault: "disk-full",
      code: "unavailable",
      message: expect.stringMatching(/no room left/),
    });
    await expectIntact(sql, store, kept);

    await sql.all("PRAGMA max_page_count = 1000000");
    await store.vehicles.create({ ...VAN, label: "afterwards" }, { charge_log: [CAN, CAN] });
    await expectIntact(sql, store, [...kept, "afterwards"]);
    sql.close();
  });

  test.runIf(canMount())("a disk that is full, where a small one can be mounted: the same", async () => {
    const disk = join(folder, "disk");
    await mkdir(disk);
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=3m", "tmpfs", disk]);
    try {
      const file = join(disk, "records.sqlite");
      const sql = await openDatabase(file);
      const store = await newStore(sql);
      await writeFile(join(disk, "other"), new Uint8Array(500_000));
      const { kept, failure } = await fillUp(store);
      expect(failure.fault).toBe("disk-full");
      expect(kept.length).toBeGreaterThan(5);
      await expectIntact(sql, store, kept);

      await rm(join(disk, "other"));
      await store.vehicles.create({ ...VAN, label: "afterwards" }, { charge_log: [CAN, CAN] });
      await expectIntact(sql, store, [...kept, "afterwards"]);
      sql.close();

      const again = await openDatabase(file);
      expect(await again.all("SELECT count(*) AS n FROM vehicles")).toEqual([{ n: kept.length + 1 }]);
      again.close();
    } finally {
      execFileSync("umount", ["--lazy", disk]);
    }
  });

  test("an answer that cannot be kept is given all the same", async () => {
    const sql = await openDatabase(join(folder, "no-cache.sqlite"));
    const store = await newStore(sql);
    await sql.all("PRAGMA max_page_count = 200");
    await fillUp(store);
    const [vehicle] = (await store.vehicles.list()).items;
    const question = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } } as const;
    const answer = { as_of: "2026-05-01", forecast: { curve: "x".repeat(100_000) } } as unknown as AssessAnswer;
    expect(await store.assessments.answer(vehicle!.id, question, "1", () => answer)).toEqual(answer);
    sql.close();
  });
});

describe("no permission to write", () => {
  test("a file that can only be read is read; writing says why not, again and again, and nothing breaks", async () => {
    const place = await mkdtemp(join(folder, "read-only-"));
    const file = join(place, "records.sqlite");
    const uid = root ? NOBODY : undefined;
    await chmod(folder, 0o755);
    if (root) await chown(place, NOBODY, NOBODY);
    const write = (url: string, label: string) =>
      fetch(url, { method: "POST", body: JSON.stringify({ label, submit_key: label }) });

    const before = await startRecordServer(file, uid);
    expect((await write(before.url, "one")).status).toBe(201);
    await before.kill();
    const mended = await openDatabase(file); // takes in what the killed one left in its log
    mended.close();
    await chmod(file, 0o444);

    const server = await startRecordServer(file, uid);
    for (let attempt = 0; attempt < 3; attempt += 1) {
      const refused = await write(server.url, "two");
      expect(refused.status).toBe(503);
      expect(await refused.text()).toMatch(/cannot be written to here, so this was not saved/);
      expect(await (await fetch(server.url)).json()).toEqual(["one"]);
    }
    await server.kill();

    for (const name of await readdir(place)) await chmod(join(place, name), 0o644);
    const after = await startRecordServer(file, uid);
    expect((await write(after.url, "two")).status).toBe(201);
    expect(await (await fetch(after.url)).json()).toEqual(["one", "two"]);
    await after.kill();
  });
});

describe("a file that is no database", () => {
  test("is reported as damaged and left as it is", async () => {
    const file = join(folder, "garbage.sqlite");
    const garbage = Buffer.from("This is no database. ".repeat(500));
    await writeFile(file, garbage);
    expect(await failureOf(openDatabase(file))).toMatchObject({
      fault: "corrupt",
      message: expect.stringMatching(/damaged.*restore the latest backup/),
    });
    expect((await readFile(file)).equals(garbage)).toBe(true);
  });

  test("a database with a page overwritten is reported when that page is read", async () => {
    const file = join(folder, "scratched.sqlite");
    const whole = await openDatabase(file);
    const store = await newStore(whole);
    for (let i = 0; i < 50; i += 1) await store.vehicles.create(VAN, { notes: [{ body: "x".repeat(3000) }] });
    whole.close();
    const bytes = await readFile(file);
    bytes.fill(0xff, 4096 * 3);
    await writeFile(file, bytes);
    expect(
      (await failureOf(openDatabase(file).then((sql) => sql.all("SELECT body FROM notes ORDER BY body")))).fault,
    ).toBe("corrupt");
  });
});

test("a place that cannot be, and a database that comes back", async () => {
  const in_the_way = join(folder, "in-the-way");
  await writeFile(in_the_way, "");
  const file = join(in_the_way, "records.sqlite");
  const lazy = new LazySql(() => openDatabase(file));
  for (let attempt = 0; attempt < 2; attempt += 1)
    expect((await failureOf(lazy.all("SELECT 1 AS one"))).fault).toBe("unreachable");
  await rm(in_the_way);
  expect(await lazy.all("SELECT 1 AS one")).toEqual([{ one: 1 }]);
});

test("a folder that leads back to itself, or whose name is too long, is told like any that cannot be reached", async () => {
  const loop = join(folder, "loop");
  await symlink(loop, loop);
  for (const place of [loop, join(folder, "n".repeat(300))])
    expect((await failureOf(openDatabase(join(place, "records.sqlite")))).fault).toBe("unreachable");
});

test("while another program writes for long, it says that someone else is writing", async () => {
  const file = join(folder, "busy.sqlite");
  const sql = await openDatabase(file);
  const other = new DatabaseSync(file);
  other.exec("BEGIN IMMEDIATE");
  const failure = await failureOf(sql.batch([{ sql: "DELETE FROM guards" }]));
  expect(failure).toMatchObject({ fault: "busy", message: expect.stringMatching(/Someone else is writing/) });
  expect(await sql.all("SELECT count(*) AS n FROM vehicles")).toEqual([{ n: 0 }]);
  other.exec("ROLLBACK");
  await sql.batch([{ sql: "DELETE FROM guards" }]);
  other.close();
  sql.close();
});

test("what the hosted engine would refuse for its size is refused here too", async () => {
  const sql = new NodeSql(":memory:");
  expect((await failureOf(sql.all("SELECT ? AS long", ["x".repeat(2_000_001)]))).fault).toBe("too-big");
  sql.close();
});

function canMount(): boolean {
  if (!root) return false;
  const probe = join(tmpdir(), `seepwise-mount-${process.pid}`);
  try {
    execFileSync("mkdir", [probe]);
    execFileSync("mount", ["-t", "tmpfs", "-o", "size=64k", "tmpfs", probe], { stdio: "ignore" });
    execFileSync("umount", [probe]);
    return true;
  } catch {
    return false;
  } finally {
    execFileSync("rmdir", [probe]);
  }
}

test("reading goes on while another program writes, without waiting for it", async () => {
  const file = join(folder, "read-beside.sqlite");
  const sql = await openDatabase(file);
  const other = new DatabaseSync(file);
  other.exec("BEGIN IMMEDIATE");
  const read = await sql.batch([{ sql: "SELECT 1 AS one" }, { sql: "SELECT count(*) AS n FROM vehicles" }]);
  expect(read).toEqual([[{ one: 1 }], [{ n: 0 }]]);
  other.exec("ROLLBACK");
  other.close();
  sql.close();
});

test("a write that finds another program writing is done when that one has finished, and others go on meanwhile", async () => {
  const file = join(folder, "wait.sqlite");
  const sql = await openDatabase(file);
  const other = new DatabaseSync(file);
  other.exec("BEGIN IMMEDIATE");
  let turns = 0;
  const turning = setInterval(() => {
    turns += 1;
    if (turns === 5) other.exec("ROLLBACK");
  }, 10);
  await sql.batch([{ sql: "DELETE FROM guards" }]);
  clearInterval(turning);
  expect(turns).toBeGreaterThanOrEqual(5);
  other.close();
  sql.close();
});

test("a copy of the one file is whole after a checkpoint", async () => {
  const file = join(folder, "one-file.sqlite");
  const sql = await openDatabase(file);
  const store = await newStore(sql);
  await store.vehicles.create(VAN);
  sql.checkpoint();
  const copy = join(folder, "copied.sqlite");
  await writeFile(copy, await readFile(file));
  sql.close();
  const opened = new NodeSql(copy, { readOnly: true });
  expect(await opened.all("SELECT count(*) AS n FROM vehicles")).toEqual([{ n: 1 }]);
  opened.close();
});
