import { Hono } from "hono";
import { describe, expect, test } from "vitest";
import { createApp } from "../../../src/app.ts";
import { KeptPages } from "../../../src/web/edge/kept-pages.ts";
import { testDeps } from "../../support/deps.ts";

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
  test.each(["/method", "/leak-tests", "/rules"])("%s has a tag, and answers 304 to whoever has it", async (path) => {
    const app = createApp(testDeps());
    const first = await app.request(path);
    const tag = first.headers.get("ETag");
    expect(tag).toMatch(/^"[\w-]{43}"$/);
    expect((await app.request(path, { headers: { "If-None-Match": tag! } })).status).toBe(304);
  });

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
