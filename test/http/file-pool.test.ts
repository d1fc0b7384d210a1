import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { Problem } from "../../src/core/problem.ts";
import { filePool } from "../../src/file-pool.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import type { NodeSql } from "../../src/store/node-sqlite.ts";
import { workspaceBytes } from "../../src/store/workspace-bytes.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { workbookSheets } from "../../src/web/edge/workbook.ts";
import { fleetFilesHere } from "../../src/web/fleet/import/files.ts";
import { importsOf } from "../../src/web/fleet/import/waiting.ts";
import { givenOut } from "../../src/web/settings/give-out.ts";
import { takeInto } from "../../src/web/settings/take-in.ts";
import { CAN, TRUCK } from "../store/samples.ts";
import { DIST } from "../support/paths.ts";

const WORKER = join(DIST, "file-worker.js");
const OWNER = { workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local" } as const;
const now = () => new Date("2026-05-01T12:00:00Z");
const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));

let folder: string;
const opened: NodeSql[] = [];

/** A new file of records, with what its owner may do there. */
async function records(name: string) {
  const database = join(folder, name);
  const sql = await openDatabase(database);
  opened.push(sql);
  await ensureLocalWorkspace({ sql, now });
  return { database, sql, store: workspaceStore({ ...OWNER, sql, now, random }) };
}

const file = (text: string) => [new TextEncoder().encode(text)];

/** The text of an export with a truck and its can. */
async function exported(): Promise<string> {
  const { store } = await records(`${crypto.randomUUID()}.sqlite`);
  await store.vehicles.create(TRUCK, { charge_log: [CAN], findings: [], notes: [] });
  return JSON.stringify(await store.transfer.export());
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-files-"));
});
afterAll(async () => {
  for (const sql of opened) sql.close();
  await rm(folder, { recursive: true, force: true });
});

test("a thread says what a file would add and takes it in, as is done in place", async () => {
  const text = await exported();
  const [here, there] = [await records("here.sqlite"), await records("there.sqlite")];
  const pool = filePool(WORKER, there.database);
  for (const options of [{ dry_run: true }, {}, { dry_run: true }])
    expect(await pool.takeIn(file(text), OWNER, options)).toEqual(await takeInto(here.store, file(text), options));
  expect(await there.store.vehicles.count()).toBe(1);
  const { exported_at: _, ...ours } = await here.store.transfer.export();
  expect(await there.store.transfer.export()).toMatchObject({ vehicles: ours.vehicles, charge_log: ours.charge_log });
});

test("a thread writes out what is written in place, and only reads; it counts what a workspace takes", async () => {
  const { database, sql, store } = await records("given-out.sqlite");
  await store.vehicles.create(TRUCK, { charge_log: [CAN], findings: [], notes: [] });
  const before = await sql.stamp(LOCAL_WORKSPACE);
  const pool = filePool(WORKER, database);
  const text = async (as: "records" | "charge-log") => new TextDecoder().decode(await pool.giveOut(as, OWNER));
  const { exported_at: _, ...ours } = await store.transfer.export();
  expect(JSON.parse(await text("records"))).toMatchObject(JSON.parse(JSON.stringify(ours)));
  expect(await text("charge-log")).toBe(new TextDecoder().decode(await givenOut(store, "charge-log")));
  expect(await pool.measure(LOCAL_WORKSPACE)).toBe(await workspaceBytes(sql, LOCAL_WORKSPACE));
  expect(await sql.stamp(LOCAL_WORKSPACE)).toBe(before);
});

test("who has the database open sees that a thread changed it", async () => {
  const { database, sql, store } = await records("stamped.sqlite");
  const before = await sql.stamp(LOCAL_WORKSPACE);
  const pool = filePool(WORKER, database);
  await pool.takeIn(file(await exported()), OWNER, { dry_run: true });
  expect(await sql.stamp(LOCAL_WORKSPACE)).toBe(before);
  await pool.takeIn(file(await exported()), OWNER, {});
  expect(await sql.stamp(LOCAL_WORKSPACE)).not.toBe(before);
  expect(await store.vehicles.count()).toBe(1);
});

test("what a thread refuses arrives as it is refused in place", async () => {
  const { database } = await records("refused.sqlite");
  const pool = filePool(WORKER, database);
  expect(await pool.takeIn(file("Van 2;650"), OWNER, {})).toEqual({
    ok: false,
    issues: [{ path: "", message: "This is no exported file: it is not JSON." }],
  });
  const by_viewer = pool.takeIn(file(await exported()), { ...OWNER, role: "viewer" }, {});
  await expect(by_viewer).rejects.toMatchObject({ name: "Problem", code: "forbidden" });
  await expect(by_viewer).rejects.toBeInstanceOf(Problem);
  const nowhere = filePool(WORKER, join(database, "no-folder", "records.sqlite"));
  await expect(nowhere.takeIn(file(await exported()), OWNER, {})).rejects.toMatchObject({
    code: "unavailable",
    fault: "unreachable",
  });
});

test("records that another process is writing to are waited for", async () => {
  const { database, store } = await records("busy.sqlite");
  const text = await exported();
  const { DatabaseSync } = await import("node:sqlite");
  const other = new DatabaseSync(database);
  other.exec("BEGIN IMMEDIATE");
  const taken = filePool(WORKER, database).takeIn(file(text), OWNER, {});
  await new Promise((resume) => setTimeout(resume, 300));
  other.exec("COMMIT");
  other.close();
  expect(await taken).toMatchObject({ ok: true });
  expect(await store.vehicles.count()).toBe(1);
});

test("a thread reads a fleet's file and takes it in, as is done in place", async () => {
  const [here, there] = [await records("fleet-here.sqlite"), await records("fleet-there.sqlite")];
  const in_place = fleetFilesHere({ store: here.store, now: () => new Date(), workbook: workbookSheets });
  const beside = filePool(WORKER, there.database).fleetFiles(OWNER);
  const csv =
    "vehicle,refrigerant,nameplate,date,added\nVan 1,R-134a,650 g,2025-06-02,340 g\nVan 2,R-134a,no,2025-07-01,1 kg\n";
  const agreed = { agreements: ["doubt"], corrections: false, changes: false, logged: true };
  const done = [];
  for (const [files, { store }] of [
    [in_place, here],
    [beside, there],
  ] as const) {
    expect(await files.keep([{ field: "file", name: "a.pdf", pieces: file("%PDF-1.7") }])).toMatchObject({
      ok: false,
      errors: [{ field: "file", message: expect.stringContaining("a.pdf: This is a PDF") }],
    });
    const kept = await files.keep([{ field: "file", name: "a.csv", pieces: file(csv) }]);
    if (!kept.ok) throw new Error(JSON.stringify(kept.errors));
    const [before, rejected] = [await files.look(kept.id), await files.rejected(kept.id, 0)];
    await files.take(kept.id, agreed);
    const { report } = await importsOf(store).get(kept.id);
    const labels = (await store.vehicles.list()).items.map(({ label }) => label);
    done.push({ before, rejected, report, labels });
    await expect(files.look("nobody")).rejects.toMatchObject({ name: "Problem", code: "not-found" });
  }
  expect(done[1]).toEqual(done[0]);
  expect(done[1]!.labels).toContain("Van 1");
  expect(done[1]!.rejected).toContain("Van 2");
});

test("what takes a thread longer than it may is refused with what to do", async () => {
  const { database } = await records("slow.sqlite");
  const { takeIn, fleetFiles } = filePool(WORKER, database, { longest_ms: 0 });
  for (const work of [takeIn(file("{}"), OWNER, {}), fleetFiles(OWNER).look("nobody")])
    await expect(work).rejects.toMatchObject({ name: "Problem", code: "too-large" });
});

test("a workbook that cannot be read is refused with what to do", async () => {
  const pool = filePool(WORKER, join(folder, "none.sqlite"));
  const broken = Uint8Array.of(0x50, 0x4b, 3, 4).buffer;
  expect(await pool.workbook(broken)).toMatchObject({
    ok: false,
    message: expect.stringContaining("This workbook cannot be opened"),
  });
});
