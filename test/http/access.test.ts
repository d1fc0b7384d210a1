import { Hono } from "hono";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { ROLES, type Role } from "../../src/store/roles.ts";
import type { Sql } from "../../src/store/sql.ts";
import { ensureLocalWorkspace } from "../../src/store/workspaces.ts";
import { accessMiddleware, openWorkspace, requireRole, storeOfFeed } from "../../src/web/edge/access.ts";
import type { AccessMode, AppEnv } from "../../src/web/edge/deps.ts";
import { answerError } from "../../src/web/edge/errors.ts";
import { bucketLimits } from "../../src/web/edge/rate-limit.ts";
import { newStore, random } from "../store/engines.ts";
import { VAN } from "../store/samples.ts";
import { testDeps } from "../support/deps.ts";
import {
  bearer,
  browser,
  cookieOf,
  type LinksApp,
  linksOnNode,
  linksRuntimes,
  SAME_ORIGIN,
} from "../support/links-app.ts";

describe.each(linksRuntimes)("an access link on $name", ({ start }) => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  async function newLink(role: Role = "editor") {
    return (await newStore(app.sql)).accessKeys.create("link", role, "phone");
  }

  test("shows what it opens, and is not used up by being looked at", async () => {
    const { key } = await newLink();
    for (let look = 0; look < 2; look += 1) {
      const page = await app.request(`/access/${key}`);
      expect(page.status).toBe(200);
      expect(page.headers.get("Cache-Control")).toBe("no-store");
      expect(await page.text()).toContain("Open My vehicles on this device");
    }
  });

  test("is exchanged for a cookie that only this site's server can read, over HTTPS only", async () => {
    const { key } = await newLink();
    const answer = await app.request(`/access/${key}`, SAME_ORIGIN);
    expect(answer.status).toBe(303);
    expect(answer.headers.get("Location")).toBe("/vehicles");
    const cookie = answer.headers.get("Set-Cookie") ?? "";
    expect(cookie).toMatch(/^__Host-seepwise=(?:[\w-]{43}){1,2};/);
    const attributes = cookie.split("; ").slice(1);
    expect(new Set(attributes)).toEqual(new Set(["Max-Age=34560000", "Path=/", "HttpOnly", "Secure", "SameSite=Lax"]));
    expect(cookie).not.toContain(key);
  });

  test("works once, and then says what to do", async () => {
    const { key } = await newLink();
    await app.request(`/access/${key}`, SAME_ORIGIN);
    for (const again of [await app.request(`/access/${key}`), await app.request(`/access/${key}`, SAME_ORIGIN)]) {
      expect(again.status).toBe(404);
      expect(again.headers.get("Set-Cookie")).toBeNull();
      expect(await again.text()).toContain("Ask the person who gave it to you for a new one");
    }
  });

  test("is not exchanged on the word of another site", async () => {
    const { key } = await newLink();
    const headers = {
      "Sec-Fetch-Site": "cross-site",
      Origin: "https://elsewhere.example",
      "Content-Type": "text/plain",
    };
    expect((await app.request(`/access/${key}`, { method: "POST", headers })).status).toBe(403);
    expect((await app.request(`/access/${key}`)).status).toBe(200);
  });

  test("ends the session that the browser had until then", async () => {
    const store = await newStore(app.sql);
    const { headers } = await browser(app, store, "editor");
    const { key } = await store.accessKeys.create("link", "editor", "phone");
    const again = await app.request(`/access/${key}`, {
      ...SAME_ORIGIN,
      headers: { ...SAME_ORIGIN.headers, ...headers },
    });
    const status = async (Cookie: string) => (await app.request("/vehicles", { headers: { Cookie } })).status;
    expect([await status(headers.Cookie), await status(cookieOf(again))]).toEqual([401, 200]);
  });

  test.each(["x", "a".repeat(43), "%00", "..%2f..", "🔑"])("made up as %s opens nothing", async (key) => {
    expect((await app.request(`/access/${encodeURIComponent(key)}`)).status).toBe(404);
    expect((await app.request(`/access/${encodeURIComponent(key)}`, SAME_ORIGIN)).status).toBe(404);
  });

  test("leaving ends the session and takes the cookie back", async () => {
    const store = await newStore(app.sql);
    const { key } = await store.accessKeys.create("link", "owner", "phone");
    const sessions = () => app.sql.all("SELECT created_at FROM sessions WHERE workspace_id = ?", [store.workspaceId]);
    const answer = await app.request(`/access/${key}`, SAME_ORIGIN);
    expect(await sessions()).toHaveLength(1);
    const left = await app.request("/leave", {
      method: "POST",
      headers: { ...SAME_ORIGIN.headers, Cookie: cookieOf(answer) },
    });
    expect(left.status).toBe(303);
    expect(left.headers.get("Set-Cookie")).toMatch(/^__Host-seepwise=; Max-Age=0;/);
    expect(await sessions()).toHaveLength(0);
  });
});

describe.each(linksRuntimes)("without access on $name", ({ start }) => {
  let app: LinksApp;
  beforeAll(async () => {
    app = await start();
  });
  afterAll(() => app.close());

  const paste = (link: string) =>
    app.request("/access", {
      ...SAME_ORIGIN,
      headers: { ...SAME_ORIGIN.headers, "Content-Type": "application/x-www-form-urlencoded" },
      body: String(new URLSearchParams({ link })),
    });

  test("a page says what is needed, with a place for a copied link", async () => {
    const page = await app.request("/vehicles");
    const text = await page.text();
    expect(page.status).toBe(401);
    expect(text).toContain('<h1 class="page-title">An access link is needed</h1>');
    expect(text).toContain('<form class="stack" method="post" action="/access"');
  });

  test("a copied link leads where it would have led when it was opened", async () => {
    const { key } = await (await newStore(app.sql)).accessKeys.create("link", "editor", "phone");
    for (const link of [`https://garage.example/access/${key}`, ` /access/${key} `, key]) {
      const answer = await paste(link);
      expect([answer.status, answer.headers.get("Location")]).toEqual([303, `/access/${key}`]);
    }
  });

  test.each(["", "x", "https://elsewhere.example/", `/access/${"a".repeat(42)}`, `/access/${"a".repeat(43)}/..`])(
    "%j is put right, and leads nowhere",
    async (link) => {
      const answer = await paste(link);
      expect([answer.status, answer.headers.get("Location")]).toEqual([422, null]);
      expect(await answer.text()).toContain("Paste the whole link");
    },
  );
});

const key = (i: number) => String(i).padStart(43, "a");

test("the hosted runtime's own counter stops whoever tries unknown keys", async () => {
  const app = await linksRuntimes.find(({ name }) => name === "Workers")!.start();
  const headers = { "CF-Connecting-IP": "192.0.2.77" };
  const answers: number[] = [];
  for (let i = 0; i < 25; i += 1) answers.push((await app.request(`/access/${key(i)}`, { headers })).status);
  expect([answers[0], answers.at(-1)]).toEqual([404, 429]);
  await app.close();
});

describe("whoever tries unknown keys", () => {
  async function tried(address: string | null = "192.0.2.1") {
    let at = Date.parse("2026-05-01T12:00:00Z");
    const now = () => new Date(at);
    const limits = bucketLimits(now);
    const app = await linksOnNode({ now, limits: () => limits, clientAddress: () => address });
    const store = await newStore(app.sql);
    const guess = async (path: string, headers: Record<string, string> = {}) =>
      (await app.request(path, { headers })).status;
    return { app, store, guess, wait: (ms: number) => (at += ms) };
  }

  test("is told to wait after twenty, whatever kind of key it is, and may go on a while later", async () => {
    const { app, store, guess, wait } = await tried();
    for (let i = 0; i < 6; i += 1) {
      expect(await guess(`/access/${key(i)}`)).toBe(404);
      expect(await guess(`/feed/${key(i)}.ics`)).toBe(404);
      expect(await guess("/api/vehicles", { Authorization: `Bearer ${key(i)}` })).toBe(401);
    }
    expect([await guess(`/access/${key(7)}`), await guess(`/access/${key(8)}`)]).toEqual([404, 404]);
    const late = await app.request(`/access/${key(9)}`);
    expect([late.status, late.headers.get("Retry-After")]).toEqual([429, "60"]);
    // An address is shared by many: a neighbour with a good key gets in all the same.
    const { key: right } = await store.accessKeys.create("link", "owner", "phone");
    expect(await guess(`/access/${right}`)).toBe(200);
    wait(60_000);
    expect(await guess(`/access/${key(9)}`)).toBe(404);
  });

  test("does not keep out those who are in, nor those with the right key", async () => {
    const { app, store, guess } = await tried();
    const { headers } = await browser(app, store, "viewer");
    for (let i = 0; i < 30; i += 1) await guess(`/access/${key(i)}`);
    expect(await guess("/vehicles", headers)).toBe(200);
    const { guess: elsewhere, store: other, app: there } = await tried("198.51.100.7");
    const right = (await bearer(other, "viewer")).headers;
    for (let i = 0; i < 100; i += 1) expect(await elsewhere("/api/vehicles", right)).toBe(200);
    await there.close();
  });
});

test.each([
  ["http://garage.example", 403],
  ["https://garage.example", 303],
  ["http://localhost:8787", 303],
])(
  "a link opened on a page from %s answers %i and is used up only where the access is kept",
  async (origin, status) => {
    const app = await linksOnNode({ origin: () => origin });
    const store = await newStore(app.sql);
    const { key: link } = await store.accessKeys.create("link", "owner", "phone");
    expect((await app.request(`/access/${link}`, SAME_ORIGIN)).status).toBe(status);
    expect((await app.request(`/access/${link}`)).status).toBe(status === 403 ? 200 : 404);
    await app.close();
  },
);

describe("someone without access", () => {
  const QUESTION = { method: "POST", headers: { "Content-Type": "application/json" } };
  const body = JSON.stringify({ vehicle: { refrigerant: "R-134a", nameplate_g: 650 } });

  test("may ask again and again, until it is too often; what is in memory costs nothing", async () => {
    const limits = bucketLimits(() => new Date("2026-05-01T12:00:00Z"));
    const app = await linksOnNode({ limits: () => limits });
    const store = await newStore(app.sql);
    const page = "/?nameplate=23+oz&today=weak&go=1";
    for (let i = 0; i < 120; i += 1) await limits.questions.take("192.0.2.1");
    expect((await app.request(page)).status).toBe(429);
    const refused = await app.request("/api/assess", { ...QUESTION, body });
    expect([refused.status, refused.headers.get("Retry-After")]).toEqual([429, "10"]);
    expect((await app.request("/top-off")).status).toBe(429);
    const { headers } = await bearer(store, "viewer");
    expect(
      (await app.request("/api/assess", { ...QUESTION, headers: { ...QUESTION.headers, ...headers }, body })).status,
    ).toBe(200);
    expect((await app.request(page, await browser(app, store, "viewer"))).status).toBe(200);
    expect((await app.request(page)).status).toBe(200);
    await app.close();
  });

  test("has so much computed, not so often: a long log counts for many", async () => {
    const limits = bucketLimits(() => new Date("2026-05-01T12:00:00Z"));
    const app = await linksOnNode({ limits: () => limits });
    const log = Array.from({ length: 120 }, (_, i) => ({
      date: `20${10 + Math.floor(i / 12)}-${String((i % 12) + 1).padStart(2, "0")}-01`,
      cooling: "ok",
    }));
    const vehicle = { refrigerant: "R-134a", nameplate_g: 650 };
    for (let i = 0; i < 115; i += 1) await limits.questions.take("192.0.2.1");
    const ask = async (body: object) =>
      (
        await app.request("/api/assess", {
          ...QUESTION,
          body: JSON.stringify({ as_of: "2026-05-01", vehicle, ...body }),
        })
      ).status;
    expect([await ask({}), await ask({ log }), await ask({})]).toEqual([200, 200, 429]);
    await app.close();
  });

  test("begins so many records of their own, and no more", async () => {
    const limits = bucketLimits(() => new Date("2026-05-01T12:00:00Z"));
    const app = await linksOnNode({ limits: () => limits });
    for (let i = 0; i < 10; i += 1) await limits.begins.take("192.0.2.1");
    const form = { ...SAME_ORIGIN.headers, "Content-Type": "application/x-www-form-urlencoded" };
    const sent = await app.request("/vehicles", {
      method: "POST",
      headers: form,
      body: "refrigerant=R-134a&nameplate=23+oz&today=weak&keep=5&service=diy",
    });
    expect([sent.status, sent.headers.get("Retry-After")]).toEqual([429, "600"]);
    expect(await app.sql.all("SELECT count(*) AS n FROM workspaces")).toEqual([{ n: 0 }]);
    await app.close();
  });
});

describe("whoever sends more than one would", () => {
  const JSON_HEADERS = { "Content-Type": "application/json" };
  const VEHICLE = { label: "Van", refrigerant: "R-134a", nameplate_g: 650 };
  const save = (app: LinksApp, headers: Record<string, string> = {}) =>
    app.request("/api/vehicles", {
      method: "POST",
      headers: { ...JSON_HEADERS, ...headers },
      body: JSON.stringify(VEHICLE),
    });

  async function limited() {
    let address = "192.0.2.1";
    const limits = bucketLimits(() => new Date("2026-05-01T12:00:00Z"));
    const app = await linksOnNode({ limits: () => limits, clientAddress: () => address });
    return { limits, app, from: (other: string) => (address = other) };
  }

  test("from one address is told to wait, and others are not; looking is not counted", async () => {
    const { limits, app, from } = await limited();
    const store = await newStore(app.sql);
    const { headers } = await bearer(store, "editor");
    for (let i = 0; i < 300; i += 1) await limits.changes.take("192.0.2.1");
    const refused = await save(app, headers);
    expect([refused.status, refused.headers.get("Retry-After")]).toEqual([429, "10"]);
    expect((await store.vehicles.list()).items).toEqual([]);
    expect((await app.request("/api/vehicles", { headers })).status).toBe(200);
    from("198.51.100.7");
    expect((await save(app, headers)).status).toBe(201);
    await app.close();
  });

  test("with one key is told to wait wherever it comes from, and those with another key are not", async () => {
    const { limits, app, from } = await limited();
    const store = await newStore(app.sql);
    const [one, other] = [await bearer(store, "editor"), await bearer(store, "editor")];
    const [key] = await app.sql.all<{ id: string }>("SELECT id FROM access_keys ORDER BY rowid LIMIT 1");
    for (let i = 0; i < 300; i += 1) {
      await limits.changes.take(`${store.workspaceId} ${key!.id}`);
      await limits.asked_with_key.take(`${store.workspaceId} ${key!.id}`);
    }
    for (const address of ["192.0.2.1", "198.51.100.7"]) {
      from(address);
      expect([(await save(app, one.headers)).status, (await save(app, other.headers)).status]).toEqual([429, 201]);
    }
    const ask = async ({ headers }: { headers: Record<string, string> }) =>
      (await app.request("/?nameplate=23+oz&today=weak&go=1&units=g", { headers })).status;
    expect([await ask(one), await ask(other)]).toEqual([429, 200]);
    await app.close();
  });
});

test("an address sends one file at a time, and others are not kept waiting by it", async () => {
  let address = "192.0.2.1";
  const [begun, done] = [Promise.withResolvers<void>(), Promise.withResolvers<void>()];
  const takeIn = async () => {
    begun.resolve();
    await done.promise;
    return { ok: false as const, issues: [] };
  };
  const app = await linksOnNode({ clientAddress: () => address, takeIn });
  const { headers } = await browser(app, await newStore(app.sql), "owner");
  const form = { ...headers, ...SAME_ORIGIN.headers, "Content-Type": "multipart/form-data; boundary=part" };
  const text = '--part\r\nContent-Disposition: form-data; name="file"; filename="a.json"\r\n\r\n{}\r\n--part--\r\n';
  const send = (path: string) => app.request(path, { method: "POST", headers: form, body: text });

  const first = send("/settings/import");
  await begun.promise;
  const second = await send("/fleet/import");
  expect([second.status, second.headers.get("Retry-After")]).toEqual([429, "10"]);
  address = "198.51.100.7";
  expect((await send("/fleet/import")).status).toBe(422);
  done.resolve();
  expect((await first).status).toBe(422);
  address = "192.0.2.1";
  expect((await send("/settings/import")).status).toBe(422);
  await app.close();
});

describe("a form of another site", () => {
  const ELSEWHERE = { "Sec-Fetch-Site": "cross-site", Origin: "https://other.example" };
  const form = { "Content-Type": "application/x-www-form-urlencoded" };

  test("is refused, whatever credentials the browser adds by itself", async () => {
    const app = await linksOnNode();
    const store = await newStore(app.sql);
    const { headers } = await browser(app, store, "editor");
    for (const authorization of [undefined, "Basic YTpi", "Digest a", "bearer", "Bearer"]) {
      const sent = { ...headers, ...ELSEWHERE, ...form, ...(authorization ? { Authorization: authorization } : {}) };
      expect((await app.request("/settings", { method: "POST", headers: sent, body: "name=x" })).status).toBe(403);
    }
    await app.close();
  });

  test("with a bearer key acts by that key alone, never by the cookie", async () => {
    const app = await linksOnNode();
    const store = await newStore(app.sql);
    const { headers } = await browser(app, store, "owner");
    const sent = { ...headers, ...ELSEWHERE, ...form, Authorization: `Bearer ${key(1)}` };
    expect((await app.request("/settings", { method: "POST", headers: sent, body: "name=x" })).status).toBe(401);
    await app.close();
  });
});

describe("requireRole", () => {
  let sql: Sql;
  beforeAll(async () => {
    sql = await openDatabase(":memory:");
  });

  /** Three routes that take three roles and tell as whom they see the one who asks. */
  function probe(access_mode: AccessMode) {
    const deps = testDeps({ sql: () => sql, access_mode, random });
    const app = new Hono<AppEnv>();
    app.onError(answerError(deps));
    app.use(accessMiddleware(deps));
    app.get("/api/open", (c) => c.json({ open: true }));
    for (const role of ROLES)
      app.get(`/api/${role}`, requireRole(role), (c) => {
        const { access, store } = c.var;
        return c.json({ ...access, same: access.workspaceId === store.workspaceId });
      });
    app.get("/api/label/:id", requireRole("viewer"), async (c) => {
      return c.json((await c.var.store.vehicles.get(c.req.param("id"))).label);
    });
    app.get("/api/forgetful/:id", async (c) => {
      const store = c.var.visit.store((await c.var.visit.access())!);
      return c.json(await store.vehicles.update(c.req.param("id"), 1, VAN));
    });
    app.get("/feed/:key", async (c) => c.json((await storeOfFeed(c, deps, c.req.param("key"))).workspaceId));
    app.get("/begin", async (c) => c.json(await openWorkspace(c, deps, { name: "Garage" })));
    return app;
  }

  /** The headers that each kind of visitor sends: bearer key or cookie, in the role, of the workspace. */
  async function visitors() {
    const store = await newStore(sql);
    const links = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
    const bearer = async (role: Role) => {
      const { id, key } = await store.accessKeys.create("api", role, "script");
      return { id, headers: { Authorization: `Bearer ${key}` } };
    };
    const cookie = async (role: Role) => {
      const { id, key } = await store.accessKeys.create("link", role, "phone");
      return { id, headers: { Cookie: cookieOf(await links.request(`/access/${key}`, SAME_ORIGIN)) } };
    };
    return { store, bearer, cookie };
  }

  const STATUS: Record<Role, Record<Role, number>> = {
    owner: { owner: 200, editor: 200, viewer: 200 },
    editor: { owner: 403, editor: 200, viewer: 200 },
    viewer: { owner: 403, editor: 403, viewer: 200 },
  };

  test.each(["bearer", "cookie"] as const)("with a %s lets each role do what it may, and no more", async (how) => {
    const app = probe("links");
    const made = await visitors();
    for (const role of ROLES) {
      const { id, headers } = await made[how](role);
      for (const needed of ROLES) {
        const answer = await app.request(`/api/${needed}`, { headers });
        expect([role, needed, answer.status]).toEqual([role, needed, STATUS[role][needed]]);
        if (answer.status === 200)
          expect(await answer.json()).toEqual({ workspaceId: made.store.workspaceId, role, actor: id, same: true });
      }
    }
  });

  test.each(["bearer", "cookie"] as const)("with a revoked %s answers 401, also to an owner", async (how) => {
    const made = await visitors();
    await made.cookie("owner");
    const { id, headers } = await made[how]("owner");
    await made.store.accessKeys.revoke(id);
    for (const role of ROLES) expect((await probe("links").request(`/api/${role}`, { headers })).status).toBe(401);
  });

  test.each([
    ["nothing", {}],
    ["an unknown key", { Authorization: `Bearer ${"a".repeat(43)}` }],
    ["an unknown session", { Cookie: `__Host-seepwise=${"a".repeat(43)}` }],
    ["a cookie without its prefix", { Cookie: `seepwise=${"a".repeat(43)}` }],
    ["another scheme", { Authorization: "Basic b3duZXI6b3duZXI=" }],
  ])("with %s answers 401, and what is open stays open", async (_what, headers: Record<string, string>) => {
    const app = probe("links");
    for (const role of ROLES) expect((await app.request(`/api/${role}`, { headers })).status).toBe(401);
    expect((await app.request("/api/open", { headers })).status).toBe(200);
  });

  test("a session token is no bearer key, a bearer key no session, a feed key neither", async () => {
    const made = await visitors();
    const token = (await made.cookie("owner")).headers.Cookie.replace("__Host-seepwise=", "");
    const key = (await made.bearer("owner")).headers.Authorization.replace("Bearer ", "");
    const feed = (await made.store.accessKeys.create("feed", "viewer", "calendar")).key;
    const wrong = [
      { Authorization: `Bearer ${token}` },
      { Cookie: `__Host-seepwise=${key}` },
      { Cookie: `__Host-seepwise=${feed}` },
      { Authorization: `Bearer ${feed}` },
    ];
    for (const headers of wrong) expect((await probe("links").request("/api/viewer", { headers })).status).toBe(401);
    expect(await (await probe("links").request(`/feed/${feed}`)).json()).toBe(made.store.workspaceId);
    for (const other of [token, key, "x"]) expect((await probe("links").request(`/feed/${other}`)).status).toBe(404);
  });

  test("a key of another workspace finds nothing by a guessed id", async () => {
    const [mine, other] = [await visitors(), await visitors()];
    const { id } = await mine.store.vehicles.create(VAN);
    const label = async (headers: Record<string, string>) =>
      (await probe("links").request(`/api/label/${id}`, { headers })).status;
    expect(await label((await mine.bearer("viewer")).headers)).toBe(200);
    expect(await label((await other.bearer("owner")).headers)).toBe(404);
  });

  test("a route that forgot to ask for a role still changes nothing for a viewer", async () => {
    const made = await visitors();
    const { id } = await made.store.vehicles.create(VAN);
    const { headers } = await made.bearer("viewer");
    expect((await probe("links").request(`/api/forgetful/${id}`, { headers })).status).toBe(403);
    expect((await made.store.vehicles.get(id)).version).toBe(1);
  });

  test("a session that comes back after a while gets its cookie anew", async () => {
    const made = await visitors();
    const { headers } = await made.cookie("viewer");
    const later = { now: () => new Date("2026-06-01T12:00:00Z"), sql: () => sql, access_mode: "links" as const };
    const deps = testDeps(later);
    const app = new Hono<AppEnv>().use(accessMiddleware(deps)).get("/", requireRole("viewer"), (c) => c.text(""));
    expect(cookieOf(await app.request("/", { headers }))).toBe(headers.Cookie);
    expect(cookieOf(await app.request("/", { headers }))).toBe("");
  });

  test("on this machine alone everyone is the owner of the local workspace, and no cookie is set", async () => {
    await ensureLocalWorkspace({ sql, now: () => new Date() });
    for (const role of ROLES) {
      const answer = await probe("local").request(`/api/${role}`);
      expect(await answer.json()).toEqual({ workspaceId: "local", role: "owner", actor: "local", same: true });
      expect(answer.headers.get("Set-Cookie")).toBeNull();
    }
  });

  test("a new workspace lets its maker in as owner, and gives a way back that works once", async () => {
    const began = await probe("links").request("/begin");
    const { access, way_back } = (await began.json()) as { access: { workspaceId: string }; way_back: string };
    const as_maker = await probe("links").request("/api/owner", { headers: { Cookie: cookieOf(began) } });
    expect(await as_maker.json()).toMatchObject(access);
    const links = createApp(testDeps({ sql: () => sql, access_mode: "links", random }));
    expect(await (await links.request(`/access/${way_back}`)).text()).toContain("Open Garage on this device");
    const other_browser = await links.request(`/access/${way_back}`, SAME_ORIGIN);
    const back = await probe("links").request("/api/owner", { headers: { Cookie: cookieOf(other_browser) } });
    expect(await back.json()).toMatchObject({ workspaceId: access.workspaceId, role: "owner" });
  });
});
