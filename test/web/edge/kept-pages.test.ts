import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";
import fc from "fast-check";
import { Hono } from "hono";
import { HTTPException } from "hono/http-exception";
import { describe, expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { packPage } from "../../../src/page-gzip.ts";
import { eraseWorkspace } from "../../../src/store/erase-workspace.ts";
import { openDatabase } from "../../../src/store/migrations.ts";
import type { Sql } from "../../../src/store/sql.ts";
import { type WorkspaceStore, workspaceStore } from "../../../src/store/workspace-store.ts";
import { createWorkspace, ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../../src/store/workspaces.ts";
import { KeptPages, type PackPage } from "../../../src/web/edge/page-cache.ts";
import { random } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { testDeps } from "../../support/deps.ts";
import { browser, linksOnNode } from "../../support/links-app.ts";

function pages(pack: PackPage | null = null) {
  const kept = new KeptPages(8_000_000, pack);
  const made: string[] = [];
  let stamp = "1";
  let key = 0;
  const app = new Hono().get("*", (c) => {
    key += 1;
    return kept.answer(c, { key: c.req.path, stamp, newKey: () => `key-${key}` }, async (submit_key) => {
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

describe("compressed pages", () => {
  const GZIP = { "Accept-Encoding": "gzip, deflate, br" };
  const unpacked = async (answer: Response) => gunzipSync(new Uint8Array(await answer.arrayBuffer())).toString();

  test("are compressed once, and each copy of a form has its own key in it", async () => {
    let packed = 0;
    const { get } = pages((pieces) => {
      packed += 1;
      return packPage(pieces);
    });
    const copies = [];
    for (let i = 0; i < 3; i += 1) {
      const answer = await get("/form", GZIP);
      expect(answer.headers.get("Content-Encoding")).toBe("gzip");
      copies.push(await unpacked(answer));
    }
    expect(copies.map((copy) => copy.replaceAll(/key-\d+/g, "KEY"))).toEqual(Array(3).fill("<b>KEY</b><i>KEY</i>"));
    expect(new Set(copies.map((copy) => copy.match(/key-\d+/)![0])).size).toBe(3);
    expect(packed).toBe(1);
  });

  test("have a weak tag, which both kinds of copies are known by", async () => {
    const { get } = pages(packPage);
    const tag = (await get("/a")).headers.get("ETag")!;
    const answer = await get("/a", GZIP);
    expect([answer.headers.get("ETag"), await unpacked(answer)]).toEqual([`W/${tag}`, "<p>/a</p>"]);
    for (const known of [tag, `W/${tag}`])
      expect((await get("/a", { ...GZIP, "If-None-Match": known })).status).toBe(304);
  });

  test.each([
    ["gzip;q=0", null],
    ["identity", null],
    ["br", null],
    ["", null],
    ["*", "gzip"],
    ["br, gzip;q=0.5", "gzip"],
  ])("for Accept-Encoding %j the encoding is %j", async (accepted, encoding) => {
    const answer = await pages(packPage).get("/a", { "Accept-Encoding": accepted });
    expect(answer.headers.get("Content-Encoding")).toBe(encoding);
  });

  test("of texts of any length and sign are what was packed", async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.string({ unit: "binary" }), { minLength: 1, maxLength: 4 }), async (texts) => {
        const pieces = texts.map((text) => new TextEncoder().encode(text));
        const page = await packPage(pieces);
        const key = "k".repeat(43);
        expect(gunzipSync(page.withKey(key))).toEqual(
          Buffer.concat(pieces.flatMap((piece, i) => (i === 0 ? [piece] : [Buffer.from(key), piece]))),
        );
      }),
      { numRuns: 50 },
    );
  });
});

test("what many ask for at once is made once; a refusal to one is none to the others", async () => {
  const kept = new KeptPages(8_000_000);
  let made = 0;
  let refuse = true;
  const app = new Hono().get("*", (c) =>
    kept.answer(c, { key: c.req.path, stamp: "1", newKey: () => "key" }, async () => {
      made += 1;
      await new Promise((resume) => setTimeout(resume, 5));
      if (refuse) {
        refuse = false;
        return Promise.reject(new HTTPException(429));
      }
      return { text: "<p>page</p>", status: 200 };
    }),
  );
  const statuses = await Promise.all(Array.from({ length: 5 }, async () => (await app.request("/a")).status));
  expect(statuses.toSorted()).toEqual([200, 200, 200, 200, 429]);
  made = 0;
  await Promise.all(Array.from({ length: 5 }, () => app.request("/b")));
  expect(made).toBe(1);
});

test("a page from memory carries every header that one made anew carries", async () => {
  const app = createApp(testDeps());
  const headersOf = async (path: string) => {
    const names = [...(await app.request(path)).headers];
    return Object.fromEntries(names.filter(([name]) => !["etag", "x-request-id", "content-type"].includes(name)));
  };
  const made_anew = await headersOf("/vehicles/new");
  expect(made_anew).toMatchObject({ "x-frame-options": "DENY", vary: "HX-Request, Accept-Encoding" });
  for (const path of ["/method", "/method", "/", "/vehicles", "/vehicles"])
    expect(await headersOf(path), path).toEqual(made_anew);
  expect(await headersOf("/healthz")).toEqual({ ...made_anew, "cache-control": "no-store" });
  const [one, other] = [await app.request("/method"), await app.request("/method")];
  expect(one.headers.get("X-Request-Id")).not.toBe(other.headers.get("X-Request-Id"));
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
    const list = async () => {
      // As a request comes in: in a turn of the event loop of its own.
      await new Promise((resume) => setImmediate(resume));
      return (await app.request("/vehicles")).text();
    };
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
