import { execFile } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { testDeps } from "../support/deps.ts";
import { ROOT } from "../support/paths.ts";
import { runtimes } from "../support/runtimes.ts";
import { type RunningServer, startServer } from "../support/server.ts";

const KEY = "0123456789abcdef";

describe.each(runtimes)("readiness on $name", ({ start }) => {
  test("GET /readyz says that the records can be read", async () => {
    const app = await start();
    const response = await app.request("/readyz");
    expect([response.status, await response.json()]).toEqual([
      200,
      { status: "ready", version: expect.stringMatching(/^\d+\.\d+\.\d+$/) },
    ]);
    await app.close();
  });
});

test("records that cannot be read are told, while /healthz still answers", async () => {
  const broken = () => Promise.reject(new Error("no such luck"));
  const errors: unknown[] = [];
  const sql = { place: "", all: broken, batch: broken };
  const app = createApp(testDeps({ sql: () => sql, reportError: (error) => errors.push(error) }));
  expect((await app.request("/readyz")).status).toBe(500);
  expect((await app.request("/healthz")).status).toBe(200);
  expect(errors).toHaveLength(1);
});

describe("a server that is watched", () => {
  let folder: string;
  let server: RunningServer;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "seepwise-operations-"));
    server = await startServer({ DATA_DIR: folder, METRICS_KEY: KEY, LOG_REQUESTS: "yes" });
  });
  afterAll(async () => {
    await server.stop();
    await rm(folder, { recursive: true, force: true });
  });
  const metrics = (key: string) => fetch(`${server.url}/metrics`, { headers: { Authorization: `Bearer ${key}` } });

  test("gives its figures to whoever has the key, in the text format of Prometheus, by pattern and never by path", async () => {
    await fetch(`${server.url}/vehicles/somebody-secret`);
    const answer = await metrics(KEY);
    expect(answer.headers.get("Content-Type")).toMatch(/^text\/plain; version=0\.0\.4/);
    const text = await answer.text();
    expect(text).toMatch(
      /^http_request_duration_seconds_count\{method="GET",route="\/vehicles\/:id",status="404"\} 1$/m,
    );
    expect(text).toMatch(/^records_bytes [1-9]\d{4,}$/m);
    expect(text).toMatch(/^process_resident_memory_bytes \d+$/m);
    expect(text).not.toContain("somebody-secret");
  });

  test("has no figures for anyone else", async () => {
    for (const key of ["", "0123456789abcdeg", `${KEY}0`]) expect((await metrics(key)).status).toBe(404);
    expect((await fetch(`${server.url}/metrics`)).status).toBe(404);
  });

  test("writes a line of JSON for each request, with the id that the answer carries", async () => {
    const answer = await fetch(`${server.url}/vehicles/somebody-secret`);
    const id = answer.headers.get("X-Request-Id")!;
    const line = () =>
      server
        .output()
        .split("\n")
        .find((one) => one.includes(id));
    await expect.poll(line).toBeDefined();
    expect(JSON.parse(line()!)).toMatchObject({
      level: "info",
      event: "request",
      id,
      method: "GET",
      route: "/vehicles/:id",
      status: 404,
      at: expect.stringMatching(/^\d{4}-\d\d-\d\dT/),
      ms: expect.any(Number),
    });
    expect(server.output()).not.toContain("somebody-secret");
  });

  test("tells its owner how the records are: size, last backup, errors", async () => {
    const page = async () => (await (await fetch(`${server.url}/settings/records`)).text()).replace(/<[^>]+>/g, "");
    expect(await page()).toMatch(
      /Seepwise \d+\.\d+\.\d+\. Records: [\d.]+ MB\. Last backup: none yet\. No errors since /,
    );
    const env = { ...process.env, DATA_DIR: folder, INIT_CWD: folder };
    await promisify(execFile)(process.execPath, [join(ROOT, "src/backup.ts"), "copy.sqlite"], { cwd: ROOT, env });
    expect(await page()).toMatch(/Last backup: \d{1,2} \w+ \d{4}/);
  });
});
