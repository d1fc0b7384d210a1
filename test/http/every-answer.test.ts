import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { FAULTS, type Fault, StoreFailure } from "../../src/store/errors.ts";
import { bucketLimits } from "../../src/web/edge/rate-limit.ts";
import { newStore } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import { bearer, browser, type LinksApp, linksOnNode, linksOnWorkers } from "../support/links-app.ts";
import { decoded } from "../support/page-form.ts";
import { DIST } from "../support/paths.ts";
import type { Ask } from "../support/runtimes.ts";
import { unsecured } from "../support/secured.ts";
import { type RunningServer, startServer } from "../support/server.ts";

const manifest: Record<string, string> = JSON.parse(readFileSync(join(DIST, "assets.json"), "utf8"));
const JSON_BODY = { method: "POST", headers: { "Content-Type": "application/json" } };
const FORM = { method: "POST", headers: { "Content-Type": "application/x-www-form-urlencoded" } };

/** Answers that anybody gets, by status. */
const OF_ANYBODY: [status: number, path: string, ask?: Ask][] = [
  [200, "/"],
  [200, "/rules"],
  [200, "/healthz"],
  [200, "/", { method: "HEAD" }],
  [405, "/rules", { method: "DELETE", headers: { "Sec-Fetch-Site": "same-origin" } }],
  [405, "/api/assess", { method: "OPTIONS" }],
  [404, "/no-such-page"],
  [404, "/no-such-page", { method: "OPTIONS" }],
  [404, "/no-such-page", { headers: { "HX-Request": "true", "HX-Request-Type": "partial" } }],
  [404, "/api/no-such-thing"],
  [401, "/vehicles"],
  [401, "/api/vehicles"],
  [403, "/leave", { ...FORM, body: "", headers: { ...FORM.headers, Origin: "https://elsewhere.example" } }],
  [400, "/api/assess", { ...JSON_BODY, body: "{" }],
  [422, "/api/assess", { ...JSON_BODY, body: "{}" }],
  [413, "/api/assess", { ...JSON_BODY, body: JSON.stringify({ notes: "x".repeat(300_000) }) }],
  [303, "/leave", { ...FORM, body: "", headers: { ...FORM.headers, "Sec-Fetch-Site": "same-origin" } }],
];

/** With limits by address, as where others come in. */
function nodeForOthers(): Promise<LinksApp> {
  const limits = bucketLimits(() => new Date("2026-05-01T12:00:00Z"));
  return linksOnNode({ limits: () => limits, clientAddress: (c) => c.req.header("CF-Connecting-IP") ?? "192.0.2.1" });
}

describe.each([
  { name: "Node", start: nodeForOthers },
  { name: "Workers", start: () => linksOnWorkers() },
])("every answer carries the security headers on $name", ({ start }) => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const answers = async (status: number, path: string, ask?: Ask) => {
    const answer = await app.request(path, ask);
    expect([path, answer.status, unsecured(answer, { https: true })]).toEqual([path, status, []]);
    expect(answer.headers.get("X-Request-Id")).toMatch(/^[0-9a-f-]{36}$/);
    await answer.arrayBuffer();
    return answer;
  };

  test.each(OF_ANYBODY)("%i at %s", async (status, path, ask) => {
    await answers(status, path, ask);
  });

  test("304 for what has not changed, open and of one's own", async () => {
    const store = await newStore(app.sql);
    await store.vehicles.create(VAN);
    const { headers } = await browser(app, store, "viewer");
    for (const [path, own] of [
      ["/rules", {}],
      ["/vehicles", headers],
    ] as const) {
      const etag = (await answers(200, path, { headers: own })).headers.get("ETag");
      await answers(304, path, { headers: { ...own, "If-None-Match": etag ?? "" } });
    }
  });

  test("412 and 428 for versions", async () => {
    const store = await newStore(app.sql);
    const { id } = await store.vehicles.create(VAN);
    const { headers } = await bearer(store, "editor");
    const put = (more: Record<string, string>) => ({
      method: "PUT",
      headers: { ...headers, "Content-Type": "application/json", ...more },
      body: JSON.stringify(VAN),
    });
    await answers(428, `/api/vehicles/${id}`, put({}));
    await answers(412, `/api/vehicles/${id}`, put({ "If-Match": '"7"' }));
    await answers(200, `/api/vehicles/${id}`, put({ "If-Match": '"1"' }));
  });

  test("429 for whoever tries keys", async () => {
    const from = { "CF-Connecting-IP": "2001:db8:ffff:ffff::1" };
    const tried = async (i: number) => app.request(`/access/${String(i).padStart(43, "a")}`, { headers: from });
    let answer = await tried(0);
    for (let i = 1; answer.status === 404 && i < 40; i += 1) answer = await tried(i);
    expect([answer.status, unsecured(answer, { https: true })]).toEqual([429, []]);
  });
});

test("so do files that the platform serves before the Worker", async () => {
  const app = await linksOnWorkers();
  const file = manifest["app.css"]!;
  for (const [status, path, ask] of [
    [200, file, {}],
    [200, file, { method: "HEAD" }],
    [200, manifest["device.js"]!, {}],
    [404, "/assets/none.js", {}],
  ] as const) {
    const answer = await app.request(path, ask);
    expect([path, answer.status, unsecured(answer, { https: true })]).toEqual([path, status, []]);
  }
  const worker = await app.request(manifest["device.js"]!);
  expect(worker.headers.get("Service-Worker-Allowed")).toBe("/");
  expect(worker.headers.get("Cache-Control")).toBe("public, max-age=31536000, immutable");
});

describe("so do those of faults", () => {
  /** Where records are read, where they are asked for as JSON, and where something is sent. */
  const ASKED = [
    ["/vehicles", {}],
    ["/api/vehicles", {}],
    ["/vehicles/new", { ...FORM, headers: { ...FORM.headers, "Sec-Fetch-Site": "same-origin" }, body: "label=x" }],
  ] as const;

  async function answersOf(error: unknown) {
    const fails = () => Promise.reject(error);
    const app = createApp(testDeps({ sql: () => ({ place: "", all: fails, batch: fails }), reportError: () => {} }));
    const answers = await Promise.all(ASKED.map(([path, ask]) => app.request(path, ask)));
    for (const answer of answers) expect(unsecured(answer, { https: false })).toEqual([]);
    return Promise.all(answers.map(async (one) => ({ status: one.status, text: await one.text() })));
  }

  test("of which nobody knows, with a number to report and no word of the error", async () => {
    for (const { status, text } of await answersOf(new Error("no such luck"))) {
      expect([status, text.includes("report this number"), text.includes("luck")]).toEqual([500, true, false]);
    }
  });

  test.each(Object.entries(FAULTS))("%s: %s", async (fault, words) => {
    for (const { status, text } of await answersOf(new StoreFailure(fault as Fault, new Error("SQLITE")))) {
      expect([status, decoded(text).includes(words), text.includes("SQLITE")]).toEqual([
        fault === "too-big" ? 413 : 503,
        true,
        false,
      ]);
    }
  });
});

describe("so does what the server of one machine sends by itself", () => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await startServer({ METRICS_KEY: "0123456789abcdef", LOG_REQUESTS: "yes" });
  });
  afterAll(async () => {
    await server.stop();
  });

  test("files, whole, packed, by their head, and not there; figures; other names", async () => {
    const file = manifest["app.css"]!;
    const key = { Authorization: "Bearer 0123456789abcdef" };
    for (const [status, path, ask] of [
      [200, file, {}],
      [200, file, { headers: { "Accept-Encoding": "br" } }],
      [200, file, { method: "HEAD" }],
      [404, "/assets/none.js", {}],
      [404, "/metrics", {}],
      [200, "/metrics", { headers: key }],
      [200, "/", { headers: { "Accept-Encoding": "gzip" } }],
      [421, "/vehicles", { headers: { "X-Forwarded-For": "192.0.2.1" } }],
      [421, file, { headers: { Via: "1.1 proxy" } }],
    ] as const) {
      const answer = await fetch(server.url + path, ask);
      expect([path, answer.status, unsecured(answer, { https: false })]).toEqual([path, status, []]);
      await answer.arrayBuffer();
    }
  });
});
