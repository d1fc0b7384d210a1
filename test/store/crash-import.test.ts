import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { DATABASE_FILE } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { fleetCsv } from "../support/fleet-csv.ts";
import { type RunningServer, startServer } from "../support/server.ts";

const VEHICLES = 800;
const CSV = fleetCsv({ vehicles: VEHICLES, entries: 2, seed: 5, as_of: "2026-05-01" });
/** Of rows that say the same one is an entry. */
const ENTRIES = new Set(CSV.trim().split("\r\n")).size - 1;
const ROUNDS = 2;
const FROM_HERE = { "Sec-Fetch-Site": "same-origin" };

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-import-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function sentFile({ url }: RunningServer): Promise<string> {
  const body = new FormData();
  body.append("file", new Blob([CSV]), "a.csv");
  const answer = await fetch(`${url}/fleet/import`, { method: "POST", body, headers: FROM_HERE, redirect: "manual" });
  expect(answer.status).toBe(303);
  return answer.headers.get("Location")!;
}

/** Takes all of it, also amounts that are hard to believe. */
function take({ url }: RunningServer, place: string): Promise<number | null> {
  const body = new URLSearchParams({ doubt: "yes" });
  return fetch(`${url}${place}/take`, { method: "POST", body, headers: FROM_HERE, redirect: "manual" }).then(
    ({ status }) => status,
    () => null, // the server is gone
  );
}

async function counted(sql: NodeSql) {
  const [row] = await sql.all<{ vehicles: number; entries: number; answers: number }>(
    `SELECT (SELECT count(*) FROM vehicles) AS vehicles, (SELECT count(*) FROM charge_log) AS entries,
       (SELECT count(*) FROM fleet_answers) AS answers`,
  );
  return row!;
}

/** Waits until there are so many vehicles or answers, or none is to come. */
async function until(sql: NodeSql, enough: (now: Awaited<ReturnType<typeof counted>>) => boolean): Promise<void> {
  await expect.poll(async () => enough(await counted(sql)), { timeout: 60_000, interval: 5 }).toBe(true);
}

test(`an import killed in the middle is whole once it is taken again, ${ROUNDS} times over, and the fleet's run goes on by itself`, async () => {
  let killed_midway = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const data_dir = join(folder, String(round));
    const env = { DATA_DIR: data_dir };
    const first = await startServer(env);
    const place = await sentFile(first);
    const sql = new NodeSql(join(data_dir, DATABASE_FILE));
    const taking = take(first, place);
    await until(sql, ({ vehicles }) => vehicles > (round / ROUNDS) * 0.5 * VEHICLES);
    await first.stop("SIGKILL");
    const status = await taking;
    const { vehicles } = await counted(sql);
    if (vehicles < VEHICLES) killed_midway += 1;

    const second = await startServer(env);
    if (status !== 303) expect(await take(second, place)).toBe(303);
    expect(await counted(sql)).toMatchObject({ vehicles: VEHICLES, entries: ENTRIES });
    const report = await (await fetch(second.url + place)).text();
    expect(report).not.toContain("Import these");

    // Killed again, while the fleet is worked out: the next start goes on without being asked.
    await until(sql, ({ answers }) => answers > 0);
    await second.stop("SIGKILL");
    const before = (await counted(sql)).answers;
    const third = await startServer(env);
    await until(sql, ({ answers }) => answers > before || answers === VEHICLES);
    await third.stop();
    expect(await sql.all("PRAGMA integrity_check")).toEqual([{ integrity_check: "ok" }]);
    expect(await sql.all("PRAGMA foreign_key_check")).toEqual([]);
    sql.close();
  }
  expect(killed_midway).toBeGreaterThan(0);
}, 240_000);
