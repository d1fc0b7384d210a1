import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Hono } from "hono";
import { describe, expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { eraseWorkspace } from "../../../src/store/erase-workspace.ts";
import { openDatabase } from "../../../src/store/migrations.ts";
import type { Sql } from "../../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { createWorkspace, ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../../src/store/workspaces.ts";
import { KeptPages } from "../../../src/web/edge/kept-pages.ts";
import { random } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { testDeps } from "../../support/deps.ts";
import { browser, linksOnNode } from "../../support/links-app.ts";

function pages() {
  const kept = new KeptPages();
  const made: string[] = [];
  let stamp = "1";
  let key = 0;
  const app = new Hono().get("*", (c) => {
    key += 1;
    return kept.answer(c, { key: c.req.path, stamp, submit_key: `key-${key}` }, async (submit_key) => {
      made.push(c.req.path);
      if (c.req.path === "/form") return { text: `<b>${submit_key}</b><i>${submit_key}</i>`, status: 200 };
      if (c.req.path === "/large") return { text: "x".repeat(2_000_000), status: 200 };
      return { text: `<p>${c.req.path}</p>`, status: c.req.path === "/wrong" ? 422 : 200 };
    });
  });
  const get = async (path: string, headers = {}) => app.request(path, { headers });
  return { made, get, change: () => (stamp += "1") };
}

describe("KeptPages", () => {
  test("makes a page once, and again when what it was made from has changed", async () => {
    const { made, get, change } = pages();
    for (let i = 0; i < 3; i += 1) expect(await (await get("/a")).text()).toBe("<p>/a</p>");
    expect(made).toEqual(["/a"]);
    change();
    await get("/a");
    expect(made).toEqual(["/a", "/a"]);
  });

  test("gives each copy of a form a key of its own", async () => {
    const { made, get } = pages();
    const copies = [await (await get("/form")).text(), await (await get("/form")).text()];
    expect(copies).toEqual(["<b>key-1</b><i>key-1</i>", "<b>key-2</b><i>key-2</i>"]);
    expect(made).toEqual(["/form"]);
    expect((await get("/form")).headers.get("ETag")).toBeNull();
  });

  test("says that a page is the same as before, also where the tag was made weak on the way", async () => {
    const { get } = pages();
    const tag = (await get("/a")).headers.get("ETag")!;
    for (const known of [tag, `W/${tag}`, `"other", ${tag}`]) {
      const again = await get("/a", { "If-None-Match": known });
      expect([again.status, await again.text()]).toEqual([304, ""]);
    }
    expect((await get("/a", { "If-None-Match": '"other"' })).status).toBe(200);
  });

  test("keeps what is wrong with its status, and nothing that is too large", async () => {
    const { made, get } = pages();
    expect([(await get("/wrong")).status, (await get("/wrong")).status]).toEqual([422, 422]);
    await get("/large");
    await get("/large");
    expect(made).toEqual(["/wrong", "/large", "/large"]);
  });
});

describe("pages that do not change", () => {
  test.each(["/method", "/leak-tests", "/rules", "/readings"])(
    "%s has a tag, and answers 304 to whoever has it",
    async (path) => {
      const app = createApp(testDeps());
      const first = await app.request(path);
      const tag = first.headers.get("ETag");
      expect(tag).toMatch(/^"[\w-]{43}"$/);
      expect((await app.request(path, { headers: { "If-None-Match": tag! } })).status).toBe(304);
    },
  );

  test("a question in the address is answered alike each time, with a fresh key for keeping it", async () => {
    const app = createApp(testDeps());
    const ask = async () => (await app.request("/?refrigerant=R-134a&nameplate=23+oz&today=weak&go=1")).text();
    const key = /name="submit_key" value="([^"]+)"/;
    const [first, second] = [await ask(), await ask()];
    expect(first.match(key)![1]).not.toBe(second.match(key)![1]);
    expect(first.replace(key, "")).toBe(second.replace(key, ""));
  });

  test("the next day it is another page", async () => {
    let today = "2026-05-01";
    const app = createApp(testDeps({ today: () => today }));
    const ask = async () => (await app.request("/?nameplate=23+oz&today=weak&go=1")).text();
    const before = await ask();
    today = "2026-08-01";
    expect(await ask()).not.toBe(before);
  });
});

describe("pages of a workspace's records", () => {
  test.each(["/vehicles", "/fleet"])("%s is made again after each change, and not before", async (path) => {
    const sql = await openDatabase(":memory:");
    await ensureLocalWorkspace({ sql, now: () => NOW });
    let reads = 0;
    const counted: Sql = {
      place: "",
      all: (text, params) => {
        reads += 1;
        return sql.all(text, params);
      },
      batch: (statements) => {
        reads += 1;
        return sql.batch(statements);
      },
      stamp: (workspace) => sql.stamp(workspace),
      changed: (workspace) => sql.changed(workspace),
    };
    const app = createApp(testDeps({ sql: () => counted, random }));
    const store = storeOf(sql, LOCAL_WORKSPACE);
    const page = async () => (await app.request(path)).text();
    const first = await page();
    reads = 0;
    const again = await page();
    expect(withoutKeys(again)).toBe(withoutKeys(first));
    const from_memory = reads;
    await store.vehicles.create({ ...VAN, label: "Blue van" });
    reads = 0;
    expect(await page()).toContain("Blue van");
    expect(from_memory).toBeLessThan(reads / 2);
    const settings = await store.settings.get();
    await store.settings.update({ ...settings, mass_unit: "g" }, settings.version);
    expect(withoutKeys(await page())).not.toBe(withoutKeys(again));
    sql.close();
  });

  test("another process that changes the records is noticed, and so is an erased workspace", async () => {
    const folder = await mkdtemp(join(tmpdir(), "kept-"));
    const file = join(folder, "records.sqlite");
    const sql = await openDatabase(file);
    await ensureLocalWorkspace({ sql, now: () => NOW });
    const other = await openDatabase(file);
    const app = createApp(testDeps({ sql: () => sql, random }));
    const list = async () => (await app.request("/vehicles")).text();
    await list();
    await storeOf(other, LOCAL_WORKSPACE).vehicles.create({ ...VAN, label: "Red truck" });
    expect(await list()).toContain("Red truck");
    await eraseWorkspace(sql, LOCAL_WORKSPACE);
    await ensureLocalWorkspace({ sql, now: () => NOW });
    expect(await list()).not.toContain("Red truck");
    sql.close();
    other.close();
    await rm(folder, { recursive: true });
  });

  test("nothing of one workspace is shown to another, nor an editor's buttons to a viewer", async () => {
    const app = await linksOnNode();
    const workspaces = await Promise.all(
      ["One", "Two"].map((name) =>
        createWorkspace({ sql: app.sql, now: () => NOW, random, settings: { name, time_zone: "UTC" } }),
      ),
    );
    const [one, two] = workspaces.map((id) => storeOf(app.sql, id)) as [WorkspaceStore, WorkspaceStore];
    await one.vehicles.create({ ...VAN, label: "Only in one" });
    await two.vehicles.create({ ...VAN, label: "Only in two" });
    const [owner, viewer, stranger] = [
      await browser(app, one, "owner"),
      await browser(app, one, "viewer"),
      await browser(app, two, "owner"),
    ];
    for (const path of ["/vehicles", "/fleet"]) {
      for (let round = 0; round < 2; round++) {
        const [own, seen, others] = await Promise.all(
          [owner, viewer, stranger].map(async ({ headers }) => (await app.request(path, { headers })).text()),
        );
        expect([own!.includes("Only in one"), own!.includes("Only in two")]).toEqual([true, false]);
        expect([others!.includes("Only in one"), others!.includes("Only in two")]).toEqual([false, true]);
        expect(seen!.includes("Only in one")).toBe(true);
        expect(withoutKeys(seen!)).not.toBe(withoutKeys(own!));
      }
      const tag = (await app.request(path, { headers: viewer.headers })).headers.get("ETag");
      expect((await app.request(path, { headers: { ...viewer.headers, "If-None-Match": tag! } })).status).toBe(304);
      expect((await app.request(path, { headers: { "If-None-Match": tag! } })).status).toBe(401);
    }
    await app.close();
  });
});

const NOW = new Date("2026-05-01T12:00:00Z");

function storeOf(sql: Sql, workspaceId: string): WorkspaceStore {
  return workspaceStore({ sql, workspaceId, role: "owner", actor: "test", now: () => NOW, random });
}

function withoutKeys(page: string): string {
  return page.replaceAll(/name="submit_key" value="[^"]+"/g, "");
}
