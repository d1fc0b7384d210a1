import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { DATABASE_FILE, openDatabase } from "../../src/store/migrations.ts";
import { random } from "../store/engines.ts";
import { testDeps } from "../support/deps.ts";
import { cookieOf, SAME_ORIGIN } from "../support/links-app.ts";
import { ROOT } from "../support/paths.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-owner-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const command = (env: Record<string, string>) =>
  promisify(execFile)(process.execPath, [join(ROOT, "src/owner-link.ts")], {
    cwd: ROOT,
    env: { ...process.env, ...env },
  });

test("npm run owner-link gives an owner who lost every way in a link that opens the records once", async () => {
  const { stdout } = await command({ DATA_DIR: folder });
  const path = /\/access\/[\w-]{43}$/.exec(stdout.trim())![0];
  const sql = await openDatabase(join(folder, DATABASE_FILE));
  const app = createApp(testDeps({ sql: () => sql, access_mode: "links", random, now: () => new Date() }));
  const opened = await app.request(path, SAME_ORIGIN);
  expect(opened.status).toBe(303);
  const keys = await app.request("/settings/access", { headers: { Cookie: cookieOf(opened) } });
  expect([keys.status, (await keys.text()).includes("Made on the server")]).toEqual([200, true]);
  expect((await app.request(path, SAME_ORIGIN)).status).toBe(404);
  sql.close();
});

test("a setting that is none is told, without a stack", async () => {
  const told = await command({ DATA_DIR: folder, PORT: "x" }).catch((error: { code: number; stderr: string }) => error);
  expect(told).toMatchObject({ code: 1, stderr: expect.stringMatching(/^PORT must be a whole number[^\n]*\n$/) });
});
