import { execFile } from "node:child_process";
import { once } from "node:events";
import { existsSync, readFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { request as httpRequest } from "node:http";
import { connect } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { brotliDecompressSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { DATABASE_FILE } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { DIST, ROOT } from "../support/paths.ts";
import { type RunningServer, startServer } from "../support/server.ts";

interface Exit {
  code: number;
  output: string;
}

/** Runs Node to its end. */
function runNode(args: string[], env: Record<string, string> = {}): Promise<Exit> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      args,
      { cwd: ROOT, env: { ...process.env, ...env }, timeout: 10_000 },
      (error, out, err) => resolve({ code: error === null ? 0 : Number(error.code), output: out + err }),
    );
  });
}

/** A request on a connection of its own, with headers as given; fetch decides over these itself. */
async function rawRequest(url: string, headers: Record<string, string> = {}) {
  const request = httpRequest(url, { headers, agent: false });
  request.end();
  const [response] = await once(request, "response");
  const chunks: Buffer[] = [];
  for await (const chunk of response) chunks.push(chunk);
  return { status: response.statusCode as number, headers: response.headers, body: Buffer.concat(chunks) };
}

const manifest: Record<string, string> = JSON.parse(readFileSync(join(DIST, "assets.json"), "utf8"));

describe("the server on this machine", () => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await startServer();
  });
  afterAll(async () => {
    await server.stop();
  });

  test("answers at the address that it prints", async () => {
    expect(server.url).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    expect((await fetch(`${server.url}/healthz`)).status).toBe(200);
  });

  test("answers to its own names only", async () => {
    const { port } = new URL(server.url);
    const status = async (host: string) => (await rawRequest(`${server.url}/healthz`, { Host: host })).status;
    for (const own of [`127.0.0.1:${port}`, `localhost:${port}`, `LOCALHOST:${port}`, `[::1]:${port}`])
      expect(await status(own)).toBe(200);
    for (const other of [
      `elsewhere.example:${port}`,
      "127.0.0.1",
      "127.0.0.1:1",
      `127.0.0.1.elsewhere.example:${port}`,
      "localhost",
    ])
      expect(await status(other)).toBe(421);
  });

  test.each([
    ...["X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "Forwarded", "Via"],
    ...["X-Real-IP", "CF-Connecting-IP"],
  ])("does not answer a proxy (%s), which would let everybody in as the owner", async (name) => {
    const answer = await rawRequest(`${server.url}/healthz`, { [name]: "x" });
    expect([answer.status, answer.body.toString()]).toEqual([421, expect.stringContaining("BEHIND_PROXY=yes")]);
  });

  test("does not answer a proxy that says nothing and speaks HTTP/1.0", async () => {
    const { port, host } = new URL(server.url);
    const socket = connect(Number(port), "127.0.0.1");
    socket.write(`GET /vehicles HTTP/1.0\r\nHost: ${host}\r\n\r\n`);
    const chunks: Buffer[] = [];
    for await (const chunk of socket) chunks.push(chunk);
    expect(Buffer.concat(chunks).toString()).toMatch(/^HTTP\/1\.1 421 /);
  });

  test("the host check comes before the built files", async () => {
    const path = manifest["app.css"];
    expect((await rawRequest(`${server.url}${path}`, { Host: "elsewhere.example" })).status).toBe(421);
  });

  test("built files are kept for a year and come compressed, the same when unpacked", async () => {
    for (const path of Object.values(manifest)) {
      const plain = await rawRequest(`${server.url}${path}`);
      expect(plain.status).toBe(200);
      expect(plain.headers["cache-control"]).toBe("public, max-age=31536000, immutable");
      expect(plain.headers["content-security-policy"]).toMatch("default-src 'self'");
      // A browser lets the worker answer for every page where its file says so, and nothing else.
      const is_worker = path === manifest["device.js"];
      expect(plain.headers["service-worker-allowed"]).toBe(is_worker ? "/" : undefined);
      // A face in woff2 and a picture in PNG are compressed by themselves.
      if (/\.(woff2|png)$/.test(path)) continue;
      const packed = await rawRequest(`${server.url}${path}`, { "Accept-Encoding": "br" });
      expect(packed.headers["content-encoding"]).toBe("br");
      expect(packed.headers.vary).toMatch(/Accept-Encoding/);
      expect(brotliDecompressSync(packed.body).equals(plain.body)).toBe(true);
    }
  });

  test.each([
    "/assets/../assets.json",
    "/assets/%2e%2e/assets.json",
    "/assets/..%2f..%2fpackage.json",
    "/_headers/",
    "/assets/none.js",
  ])("nothing lies at %s", async (path) => {
    const { port } = new URL(server.url);
    const request = httpRequest({ host: "127.0.0.1", port, path });
    request.end();
    const [response] = await once(request, "response");
    response.resume();
    expect(response.statusCode).toBe(404);
  });

  test("pages are compressed", async () => {
    const page = await rawRequest(`${server.url}/no-such-page`, { "Accept-Encoding": "gzip" });
    expect(page.headers["content-encoding"]).toBe("gzip");
  });

  test("a body of 300 kB is refused, whether its length is told or not", async () => {
    const body = JSON.stringify({ notes: "x".repeat(300_000) });
    const headers = { "Content-Type": "application/json" };
    const told = await fetch(`${server.url}/api/assess`, { method: "POST", headers, body });
    const untold = await fetch(`${server.url}/api/assess`, {
      method: "POST",
      headers,
      body: new Blob([body]).stream(),
      duplex: "half",
    });
    expect([told.status, untold.status]).toEqual([413, 413]);
  });

  test("an address of 60 kB, as of a charge log with 200 lines, is read", async () => {
    const line = "&date=2025-05-01&cooling=weak&added=12+oz&by=cans&finish=gauges&repair=&recovered=".repeat(200);
    const { status } = await rawRequest(`${server.url}/?units=us${line.padEnd(60_000, "&x=1")}`);
    expect([200, 422]).toContain(status);
  });

  test("bytes that are no HTTP do not stop it", async () => {
    const { port } = new URL(server.url);
    const socket = connect(Number(port), "127.0.0.1");
    socket.write("\u0000\u0001 nonsense\r\n\r\n");
    socket.resume();
    await once(socket, "close");
    expect((await rawRequest(`${server.url}/healthz`)).status).toBe(200);
  });
});

describe("starting", () => {
  test("on a busy port says which, and what to do", async () => {
    const server = await startServer();
    const { port } = new URL(server.url);
    const second = await runNode(["dist/node.js"], { PORT: port, HOST: "127.0.0.1" });
    await server.stop();
    expect(second.code).toBe(1);
    expect(second.output).toMatch(`Port ${port} is in use`);
    expect(second.output).toMatch(`PORT=${Number(port) + 1} npm start`);
    expect(second.output).not.toMatch(/\bat .*\.(js|ts):\d+/);
  });

  test.each(["eighty", "-1", "65536", "80.5", "1e3", " 80"])("with PORT=%j says what a port is", async (port) => {
    const { code, output } = await runNode(["dist/node.js"], { PORT: port });
    expect(code).toBe(1);
    expect(output.trim()).toBe(`PORT must be a whole number from 0 to 65535, like 8787; it is "${port}".`);
  });

  test("with a HOST that is not this machine says so", async () => {
    const { code, output } = await runNode(["dist/node.js"], { HOST: "192.0.2.1", PORT: "0" });
    expect(code).toBe(1);
    expect(output).toMatch('"192.0.2.1" is not an address of this machine');
  });

  test.each(["20.20.2", "18.0.0", "23.11.1"])("on Node %s says which Node it needs", async (version) => {
    const pretend = `Object.defineProperty(process.versions, "node", { value: "${version}" })`;
    const preload = `data:text/javascript,${encodeURIComponent(pretend)}`;
    const { code, output } = await runNode(["--import", preload, "dist/node.js"]);
    expect(code).toBe(1);
    expect(output).toMatch(`Seepwise needs Node 24 or newer; this is Node ${version}.`);
  });
});

describe("the server behind a proxy on this machine", () => {
  let server: RunningServer;
  beforeAll(async () => {
    server = await startServer({ BEHIND_PROXY: "yes" });
  });
  afterAll(async () => {
    await server.stop();
  });

  test("asks for an access link, under any name", async () => {
    const headers = { Host: "garage.example", "X-Forwarded-For": "192.0.2.1" };
    expect((await rawRequest(`${server.url}/healthz`, headers)).status).toBe(200);
    expect((await rawRequest(`${server.url}/vehicles`, headers)).status).toBe(401);
    expect((await rawRequest(`${server.url}/api/vehicles`, headers)).status).toBe(401);
  });

  test("counts wrong keys by the address that the proxy saw last", async () => {
    const tried = async (i: number, from: string) => {
      const headers = { Host: "garage.example", "X-Forwarded-For": from };
      return (await rawRequest(`${server.url}/access/${String(i).padStart(43, "a")}`, headers)).status;
    };
    for (let i = 0; i < 20; i += 1) expect(await tried(i, `198.51.100.${i}, 192.0.2.9`)).toBe(404);
    expect(await tried(20, "203.0.113.1, 192.0.2.9")).toBe(429);
    expect(await tried(21, "192.0.2.9, 203.0.113.1")).toBe(404);
  });

  test("takes forms from the name under which the browser knows it, and from no other", async () => {
    const leave = async (origin: string) => {
      const answer = await fetch(`${server.url}/leave`, {
        method: "POST",
        redirect: "manual",
        headers: {
          "Content-Type": "application/x-www-form-urlencoded",
          Origin: origin,
          "X-Forwarded-Host": "garage.example",
          "X-Forwarded-Proto": "https",
        },
      });
      return answer.status;
    };
    expect(await leave("https://garage.example")).toBe(303);
    expect(await leave("http://garage.example")).toBe(403);
    expect(await leave("https://elsewhere.example")).toBe(403);
  });
});

describe("stopping", () => {
  test.each(["SIGTERM", "SIGINT"] as const)("%s ends it with code 0", async (signal) => {
    const server = await startServer();
    expect(await server.stop(signal)).toBe(0);
  });

  test("SIGTERM lets a change under way arrive, be kept and be answered", async () => {
    const data_dir = await mkdtemp(join(tmpdir(), "seepwise-stopping-"));
    const server = await startServer({ DATA_DIR: data_dir });
    const { port } = new URL(server.url);
    const request = httpRequest({
      host: "127.0.0.1",
      port,
      path: "/api/vehicles",
      method: "POST",
      headers: { "Content-Type": "application/json", "Transfer-Encoding": "chunked" },
    });
    request.write("{");
    // The server has begun to read the body once a second request on another connection was answered.
    await rawRequest(`${server.url}/healthz`);
    const stopped = server.stop();
    await expect
      .poll(() =>
        rawRequest(`${server.url}/healthz`).then(
          () => "answered",
          () => "closed",
        ),
      )
      .toBe("closed");
    request.end('"label":"Van","refrigerant":"R-134a","nameplate_g":650}');
    const [response] = await once(request, "response");
    response.resume();
    expect(response.statusCode).toBe(201);
    expect(await stopped).toBe(0);
    expect(existsSync(join(data_dir, `${DATABASE_FILE}-wal`))).toBe(false);
    const sql = new NodeSql(join(data_dir, DATABASE_FILE), { readOnly: true });
    expect(await sql.all("SELECT label FROM vehicles")).toEqual([{ label: "Van" }]);
    sql.close();
    await rm(data_dir, { recursive: true });
  });
});
