import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { afterAll, beforeAll, expect, test } from "vitest";
import { NodeSql } from "../../src/store/node-sqlite.ts";

const ROUNDS = 4;
/** What is said before the blow falls, in the last round; in the others a share of it. */
const MOST_SAID = 42;
const SCRIPT = join(import.meta.dirname, "shop-process.ts");

type Said = { quote?: string; invoice?: string; payment?: string };

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-shop-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Works until it has said so many things, is killed at once, and gives what it said. */
async function killedAfter(file: string, things: number): Promise<Said[]> {
  const child = spawn(process.execPath, [SCRIPT, file], { stdio: ["ignore", "pipe", "inherit"] });
  const said: Said[] = [];
  const gone = once(child, "exit");
  for await (const line of createInterface({ input: child.stdout })) {
    said.push(JSON.parse(line));
    if (said.length === things) child.kill("SIGKILL");
  }
  await gone;
  return said;
}

/** What is in the file, and what is wrong with it. */
async function look(file: string) {
  const sql = new NodeSql(file);
  const [integrity, loose, numbers, ids] = await sql.batch([
    { sql: "PRAGMA integrity_check" },
    { sql: "PRAGMA foreign_key_check" },
    {
      sql: `SELECT 'quotes' AS list, count(*) AS all_of_them, count(DISTINCT number) AS apart, max(number) AS last
          FROM quotes WHERE number IS NOT NULL
        UNION ALL SELECT 'invoices', count(*), count(DISTINCT number), max(number) FROM invoices`,
    },
    {
      sql: `SELECT id FROM quotes WHERE status = 'accepted' UNION ALL SELECT id FROM invoices
        UNION ALL SELECT id FROM payments`,
    },
  ]);
  sql.close();
  return { integrity, wrong: loose!, numbers: numbers!, ids: new Set(ids!.map(({ id }) => id)) };
}

test(`a shop killed in the middle of its work, ${ROUNDS} times over, has every yes, invoice and payment it was told of`, async () => {
  const file = join(folder, "shop.sqlite");
  const kept: string[] = [];
  for (let round = 1; round <= ROUNDS; round += 1) {
    const said = await killedAfter(file, Math.ceil((round / ROUNDS) * MOST_SAID));
    kept.push(...said.flatMap((one) => Object.values(one)));
    const { integrity, wrong, numbers, ids } = await look(file);
    expect(integrity).toEqual([{ integrity_check: "ok" }]);
    expect(wrong).toEqual([]);
    expect(kept.filter((id) => !ids.has(id))).toEqual([]);
    // No number is given twice, and none is left out.
    for (const { all_of_them, apart, last } of numbers) expect([apart, last]).toEqual([all_of_them, all_of_them]);
  }
  expect(kept.length).toBeGreaterThanOrEqual((ROUNDS * MOST_SAID) / 2);
}, 240_000);
