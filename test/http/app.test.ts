import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { Problem, type ProblemCode } from "../../src/core/problem.ts";
import { testDeps } from "../support/deps.ts";
import { type Runtime, runtimes } from "../support/runtimes.ts";

describe.each(runtimes)("the app on $name", ({ start }) => {
  let app: Runtime;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  test("GET /healthz says that it answers, and which version", async () => {
    const response = await app.request("/healthz");
    expect(response.status).toBe(200);
    expect(await response.json()).toEqual({
      status: "ok",
      version: expect.stringMatching(/^\d+\.\d+\.\d+$/),
      model: expect.stringMatching(/^\d+$/),
    });
    expect(response.headers.get("Cache-Control")).toBe("no-store");
  });

  test("an unknown address is a page for a person", async () => {
    const response = await app.request("/no-such-page");
    const page = await response.text();
    expect(response.status).toBe(404);
    expect(response.headers.get("Content-Type")).toMatch("text/html");
    expect(page).toMatch(/^<!DOCTYPE html><html lang="en" data-device="[^"]+">/i);
    expect(page).toContain("Not found</h1>");
    expect(page).toContain('href="/"');
  });

  test("… a fragment for a part of a page", async () => {
    const response = await app.request("/no-such-page", {
      headers: { "HX-Request": "true", "HX-Request-Type": "partial" },
    });
    const fragment = await response.text();
    expect(response.status).toBe(404);
    expect(fragment).toMatch(/^<div class="problem" role="alert">/);
    expect(fragment).not.toContain("<html");
  });

  test("… and JSON under /api", async () => {
    const response = await app.request("/api/no-such-thing");
    expect(response.status).toBe(404);
    expect(await response.json()).toEqual({
      error: { message: expect.stringMatching(/nothing at this address/), issues: [] },
    });
  });

  test("a page is not kept as its own fragment", async () => {
    const { headers } = await app.request("/no-such-page");
    expect(headers.get("Vary")).toMatch(/\bHX-Request\b/);
    expect(headers.get("Cache-Control")).toBe("private, no-cache");
  });

  test.each(["/method", "/api/openapi.json"])("%s is sent again only when it has changed", async (path) => {
    const first = await app.request(path);
    expect(first.status).toBe(200);
    await first.text();
    const tag = first.headers.get("ETag") ?? "";
    expect(tag).toMatch(/^(W\/)?"[\w-]+"$/);
    expect((await app.request(path, { headers: { "If-None-Match": tag } })).status).toBe(304);
    expect((await app.request(path, { headers: { "If-None-Match": '"another"' } })).status).toBe(200);
  });

  test("a method that an address does not take is answered 405 with those it takes", async () => {
    const response = await app.request("/healthz", {
      method: "DELETE",
      headers: { "Content-Type": "application/json" },
    });
    expect(response.status).toBe(405);
    expect(response.headers.get("Allow")).toBe("GET, HEAD");
  });

  test("a form from another site is refused, one from here is not", async () => {
    const post = (headers: Record<string, string>) =>
      app.request("/no-such-page", {
        method: "POST",
        headers: { "Content-Type": "application/x-www-form-urlencoded", ...headers },
        body: "a=1",
      });
    const elsewhere = await post({ Origin: "https://elsewhere.example", "Sec-Fetch-Site": "cross-site" });
    expect(elsewhere.status).toBe(403);
    expect(await elsewhere.text()).toContain("That is not allowed");
    expect((await post({})).status).toBe(403);
    expect((await post({ "Sec-Fetch-Site": "same-origin" })).status).toBe(404);
  });

  test("a body over 256 KiB is refused before anything reads it", async () => {
    const response = await app.request("/no-such-page", {
      method: "POST",
      headers: { "Content-Type": "application/x-www-form-urlencoded", "Sec-Fetch-Site": "same-origin" },
      body: `notes=${"x".repeat(300_000)}`,
    });
    expect(response.status).toBe(413);
    expect(await response.text()).toContain("Send at most 256 KiB at once.");
  });
});

describe("what a route throws", () => {
  const STATUSES: [ProblemCode, number][] = [
    ["unreadable", 400],
    ["invalid", 422],
    ["too-large", 413],
    ["no-room", 507],
    ["sign-in-needed", 401],
    ["forbidden", 403],
    ["not-found", 404],
    ["changed", 409],
    ["version-needed", 428],
    ["too-many", 429],
    ["unavailable", 503],
  ];

  test.each(STATUSES)("a problem “%s” is answered %d with its message and issues", async (code, status) => {
    const app = createApp(testDeps());
    app.get("/api/thrown", () => {
      throw new Problem(code, "Do <this> instead.", [{ path: "a.0", message: "Like that." }]);
    });
    const response = await app.request("/api/thrown");
    expect(response.status).toBe(status);
    expect(await response.json()).toEqual({
      error: { message: "Do <this> instead.", issues: [{ path: "a.0", message: "Like that." }] },
    });
  });

  test("a problem's words are escaped on a page", async () => {
    const app = createApp(testDeps());
    app.get("/thrown", () => {
      throw new Problem("invalid", "<script>alert(1)</script>", [{ path: "a", message: "<b>" }]);
    });
    const page = await (await app.request("/thrown")).text();
    expect(page).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(page).toContain("&lt;b&gt;");
    expect(page).not.toContain("<script>alert");
  });

  test("anything else is reported, and its text stays inside", async () => {
    const reported: unknown[] = [];
    const app = createApp(testDeps({ reportError: (error, request) => reported.push([error, request]) }));
    const error = new Error("secret of the inside");
    app.get("/thrown", () => {
      throw error;
    });
    const response = await app.request("/thrown");
    const page = await response.text();
    expect(response.status).toBe(500);
    const id = response.headers.get("X-Request-Id");
    expect(reported).toEqual([[error, { id, method: "GET", route: "/thrown" }]]);
    expect(page).toContain(id);
    expect(page).not.toContain("secret");
    expect(page).not.toContain("at Object");
  });

  test("what is reported names the pattern of the address, never a key that stands in it", async () => {
    const reported: unknown[] = [];
    const broken = {
      place: "",
      all: () => Promise.reject(new Error("no such luck")),
      batch: () => Promise.reject(new Error("no")),
    };
    const app = createApp(
      testDeps({
        access_mode: "links",
        sql: () => broken,
        reportError: (_error, { route }) => reported.push(route),
      }),
    );
    const key = "k".repeat(43);
    for (const path of [`/access/${key}`, `/feed/${key}.ics`, `/q/${key}`]) await app.request(path);
    await app.request(`/access/${key}`, { method: "POST", headers: { "Sec-Fetch-Site": "same-origin" } });
    expect(reported).toHaveLength(4);
    expect(JSON.stringify(reported)).not.toContain(key);
    expect(reported).toContain("/q/:token");
  });
});

test.each([
  ["links", "max-age=31536000"],
  ["local", null],
] as const)("in the mode %s the browser is told to keep to HTTPS: %s", async (access_mode, expected) => {
  const answer = await createApp(testDeps({ access_mode })).request("/no-such-page");
  expect(answer.headers.get("Strict-Transport-Security")).toBe(expected);
});
