import { expect, test } from "vitest";
import { createApp } from "../src/app.ts";
import { openDatabase } from "../src/store/migrations.ts";
import { ensureLocalWorkspace } from "../src/store/workspaces.ts";
import { warmUp } from "../src/warm-up.ts";
import { TODAY, testDeps } from "./support/deps.ts";

test("a warm-up asks the page and the model, one question at a time, and is answered", async () => {
  const sql = await openDatabase(":memory:");
  await ensureLocalWorkspace({ sql, now: () => new Date("2026-05-01T12:00:00Z") });
  const app = createApp(testDeps({ sql: () => sql }));
  const asked = new Set<string>();
  const statuses = new Set<number>();
  let at_once = 0;
  await warmUp(
    async ({ path, ...init }) => {
      expect(++at_once).toBe(1);
      const { pathname, searchParams } = new URL(path, "http://localhost");
      asked.add(`${init.method} ${pathname}${searchParams.has("go") ? " with a question" : ""}`);
      const response = await app.request(path, init);
      statuses.add(response.status);
      at_once--;
    },
    TODAY,
    6,
  );
  expect([...statuses]).toEqual([200]);
  expect([...asked]).toEqual(expect.arrayContaining(["POST /api/assess", "GET / with a question", "GET /method"]));
});

test("an application that fails ends it without a word", async () => {
  let times = 0;
  const fails = async () => {
    times++;
    throw new Error("not now");
  };
  await expect(warmUp(fails, TODAY)).resolves.toBeUndefined();
  expect(times).toBe(1);
});
