import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { DATABASE_FILE } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { startServer } from "../support/server.ts";
import { type RecordProcess, startRecordServer } from "./record-process.ts";
import { CAN } from "./samples.ts";

const ROUNDS = 10;
const WRITES = 120;

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-crash-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Sends one write; true once the server has said that it is kept. */
async function write(server: RecordProcess, label: string): Promise<boolean> {
  const body = JSON.stringify({ label, submit_key: label });
  try {
    return (await fetch(server.url, { method: "POST", body })).status === 201;
  } catch {
    return false; // the server is gone
  }
}

/** The same to the application itself: a vehicle with three log entries and a note, all or nothing. */
async function create(url: string, label: string): Promise<boolean> {
  const vehicle = { label, refrigerant: "R-134a", nameplate_g: 650 };
  const body = JSON.stringify({ ...vehicle, charge_log: [CAN, CAN, CAN], notes: [{ body: label }] });
  const headers = { "Content-Type": "application/json", "Idempotency-Key": label };
  try {
    return (await fetch(`${url}/api/vehicles`, { method: "POST", headers, body })).status === 201;
  } catch {
    return false; // the server is gone
  }
}

/** What is in the file now, and what is wrong with it. */
async function look(file: string) {
  const sql = new NodeSql(file);
  const [integrity, loose, partial, labels] = await sql.batch([
    { sql: "PRAGMA integrity_check" },
    { sql: "PRAGMA foreign_key_check" },
    {
      sql: `SELECT label FROM vehicles WHERE
        (SELECT count(*) FROM charge_log WHERE vehicle_id = vehicles.id) <> 3
        OR (SELECT count(*) FROM notes WHERE vehicle_id = vehicles.id AND body = label) <> 1
        OR (SELECT count(*) FROM submissions WHERE subject_id = vehicles.id AND submit_key = label) <> 1`,
    },
    { sql: "SELECT label FROM vehicles ORDER BY label" },
  ]);
  sql.close();
  return { integrity, wrong: [...loose!, ...partial!], labels: labels!.map(({ label }) => label as string) };
}

test(`killed in the middle of ${WRITES} writes at once, ${ROUNDS} times over, it keeps all that it said it kept`, async () => {
  const file = join(folder, DATABASE_FILE);
  const kept = new Set<string>();
  let killed_midway = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const server = await startServer({ DATA_DIR: folder });
    const labels = Array.from({ length: WRITES }, (_, i) => `${round}-${i}`);
    // From the first answer to nearly the last, so that the blow falls everywhere.
    const fatal = 1 + Math.floor((round / ROUNDS) * WRITES * 0.95);
    let answered = 0;
    let killing: Promise<unknown> | undefined;
    const acknowledged = await Promise.all(
      labels.map(async (label) => {
        const is_kept = await create(server.url, label);
        answered += 1;
        if (answered === fatal) killing = server.stop("SIGKILL");
        return is_kept ? label : null;
      }),
    );
    await killing;
    for (const label of acknowledged) if (label !== null) kept.add(label);
    if (acknowledged.includes(null)) killed_midway += 1;

    const { integrity, wrong, labels: found } = await look(file);
    expect(integrity).toEqual([{ integrity_check: "ok" }]);
    expect(wrong).toEqual([]);
    expect([...kept].filter((label) => !found.includes(label))).toEqual([]);
  }
  expect(killed_midway).toBeGreaterThanOrEqual(ROUNDS - 2);

  // Whoever got no answer sends it again, under the same key (here every eighth round, and all of it): then each is
  // there once.
  const server = await startServer({ DATA_DIR: folder });
  const all: string[] = [];
  for (let round = 0; round < ROUNDS; round += 8) {
    const labels = Array.from({ length: WRITES }, (_, i) => `${round}-${i}`);
    const stored = await Promise.all(labels.map((label) => create(server.url, label)));
    expect(stored.every(Boolean)).toBe(true);
    all.push(...labels);
  }
  await server.stop("SIGKILL");
  const { wrong, labels } = await look(file);
  expect(wrong).toEqual([]);
  const sent_again = labels.filter((label) => all.includes(label));
  expect(sent_again).toEqual(all.toSorted((a, b) => (a < b ? -1 : 1)));
}, 240_000);

test("two servers on one file both keep what they say", async () => {
  const file = join(folder, "shared.sqlite");
  const servers = await Promise.all([startRecordServer(file), startRecordServer(file)]);
  const labels = Array.from({ length: WRITES }, (_, i) => `shared-${i}`);
  const kept = await Promise.all(labels.map((label, i) => write(servers[i % 2]!, label)));
  await Promise.all(servers.map((server) => server.kill()));
  expect(kept.every(Boolean)).toBe(true);
  const found = await look(file);
  expect(found.wrong).toEqual([]);
  expect(found.labels).toHaveLength(WRITES);
});
