import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  accessOfKey,
  accessOfSession,
  endSession,
  exchangeLink,
  linkPreview,
  PURPOSES,
  SESSION_DAYS,
} from "../../src/store/access.ts";
import { newKey } from "../../src/store/ids.ts";
import { ROLES } from "../../src/store/roles.ts";
import type { Sql } from "../../src/store/sql.ts";
import { engines, newStore, random } from "./engines.ts";

const DAY_MS = 86_400_000;

describe.each(engines)("access on $name", ({ start }) => {
  let sql: Sql;
  let close: () => Promise<void>;
  beforeAll(async () => {
    ({ sql, close } = await start());
  });
  afterAll(() => close());

  /** The edge on a day of its own, which a test can move. */
  function edgeAt(instant = "2026-05-01T12:00:00Z") {
    const edge = { sql, random, ms: Date.parse(instant), now: () => new Date(edge.ms) };
    return edge;
  }

  describe("a link", () => {
    test.each(ROLES)("of a %s is exchanged once for a session of that role", async (role) => {
      const store = await newStore(sql);
      const edge = edgeAt();
      const { id, key } = await store.accessKeys.create("link", role, "phone");
      const token = await exchangeLink(edge, key);
      expect(await accessOfSession(edge, token!)).toMatchObject({
        access: { workspaceId: store.workspaceId, role, actor: id },
      });
      expect(await exchangeLink(edge, key)).toBeNull();
      expect(await accessOfSession(edge, token!)).not.toBeNull();
    });

    test("pressed twice at once opens one session", async () => {
      const store = await newStore(sql);
      const { key } = await store.accessKeys.create("link", "editor", "phone");
      const tokens = await Promise.all([1, 2, 3].map(() => exchangeLink(edgeAt(), key)));
      expect(tokens.filter((token) => token !== null)).toHaveLength(1);
    });

    test("looked at is not used up; once used it shows nothing any more", async () => {
      const store = await newStore(sql);
      const edge = edgeAt();
      const { key } = await store.accessKeys.create("link", "viewer", "customer");
      const preview = { workspace: "My vehicles", role: "viewer", label: "customer" };
      expect(await linkPreview(edge, key)).toEqual(preview);
      expect(await linkPreview(edge, key)).toEqual(preview);
      await exchangeLink(edge, key);
      expect(await linkPreview(edge, key)).toBeNull();
    });

    test("revoked before it was used opens nothing", async () => {
      const store = await newStore(sql);
      const { id, key } = await store.accessKeys.create("link", "editor", "phone");
      await store.accessKeys.revoke(id);
      expect(await linkPreview(edgeAt(), key)).toBeNull();
      expect(await exchangeLink(edgeAt(), key)).toBeNull();
    });

    test("is no bearer key, no feed key and no session", async () => {
      const store = await newStore(sql);
      const { key } = await store.accessKeys.create("link", "owner", "phone");
      expect(await accessOfKey(edgeAt(), key, "api")).toBeNull();
      expect(await accessOfKey(edgeAt(), key, "feed")).toBeNull();
      expect(await accessOfSession(edgeAt(), key)).toBeNull();
    });
  });

  describe("a session", () => {
    async function session() {
      const store = await newStore(sql);
      const edge = edgeAt();
      const { id, key } = await store.accessKeys.create("link", "editor", "phone");
      const token = await exchangeLink(edge, key);
      return { store, edge, id, token: token! };
    }

    test("ends at once when its key is revoked", async () => {
      const { store, edge, id, token } = await session();
      await store.accessKeys.revoke(id);
      expect(await accessOfSession(edge, token)).toBeNull();
    });

    test("ends when the person leaves", async () => {
      const { edge, token } = await session();
      await endSession(edge, token);
      expect(await accessOfSession(edge, token)).toBeNull();
    });

    test("ends when nobody came back for its time", async () => {
      const { edge, token } = await session();
      edge.ms += SESSION_DAYS * DAY_MS + 1;
      expect(await accessOfSession(edge, token)).toBeNull();
    });

    test("goes on as long as someone comes back, and says when the cookie should", async () => {
      const { edge, token } = await session();
      for (let visit = 0; visit < 3; visit += 1) {
        edge.ms += (SESSION_DAYS - 1) * DAY_MS;
        expect(await accessOfSession(edge, token)).toMatchObject({ prolonged: true });
        expect(await accessOfSession(edge, token)).toMatchObject({ prolonged: false });
      }
    });

    test("of a made-up token is none", async () => {
      expect(await accessOfSession(edgeAt(), newKey(sql, random))).toBeNull();
      expect(await accessOfSession(edgeAt(), "")).toBeNull();
    });
  });

  describe("a bearer key", () => {
    test("opens its workspace in its role until it is revoked", async () => {
      const store = await newStore(sql);
      const { id, key } = await store.accessKeys.create("api", "viewer", "script");
      expect(await accessOfKey(edgeAt(), key, "api")).toEqual({
        workspaceId: store.workspaceId,
        role: "viewer",
        actor: id,
      });
      expect(await accessOfKey(edgeAt(), key, "feed")).toBeNull();
      expect(await exchangeLink(edgeAt(), key)).toBeNull();
      await store.accessKeys.revoke(id);
      expect(await accessOfKey(edgeAt(), key, "api")).toBeNull();
    });

    test("is marked as used, not more than every quarter of an hour", async () => {
      const store = await newStore(sql);
      const edge = edgeAt("2026-06-01T00:00:00Z");
      const { key } = await store.accessKeys.create("api", "viewer", "script");
      const last_used = async () => (await store.accessKeys.list())[0]!.last_used_at;
      expect(await last_used()).toBeNull();
      await accessOfKey(edge, key, "api");
      expect(await last_used()).toBe("2026-06-01T00:00:00.000Z");
      edge.ms += 14 * 60_000;
      await accessOfKey(edge, key, "api");
      expect(await last_used()).toBe("2026-06-01T00:00:00.000Z");
      edge.ms += 60_000;
      await accessOfKey(edge, key, "api");
      expect(await last_used()).toBe("2026-06-01T00:15:00.000Z");
    });
  });

  test("a feed key opens the feed and nothing else, and is a viewer's only", async () => {
    const store = await newStore(sql);
    const { key } = await store.accessKeys.create("feed", "viewer", "calendar");
    expect(await accessOfKey(edgeAt(), key, "feed")).toMatchObject({ workspaceId: store.workspaceId, role: "viewer" });
    expect(await accessOfKey(edgeAt(), key, "api")).toBeNull();
    expect(await exchangeLink(edgeAt(), key)).toBeNull();
    await expect(store.accessKeys.create("feed", "editor", "calendar")).rejects.toThrow();
  });

  test("the same submit arriving twice leaves one key, the one that was shown last", async () => {
    const store = await newStore(sql);
    const keys = [];
    for (let press = 0; press < 3; press += 1)
      keys.push((await store.accessKeys.create("api", "viewer", "script", "press")).key);
    const opens = await Promise.all(keys.map((key) => accessOfKey(edgeAt(), key, "api")));
    expect(opens.map((access) => access !== null)).toEqual([false, false, true]);
    // One that is in use stays, whatever arrives late.
    await store.accessKeys.create("api", "viewer", "script", "press");
    expect(await accessOfKey(edgeAt(), keys[2]!, "api")).not.toBeNull();
    expect((await store.accessKeys.list()).filter(({ revoked_at }) => revoked_at === null)).toHaveLength(2);
  });

  test("the last owner's link cannot be revoked, any other can", async () => {
    const store = await newStore(sql);
    const first = await store.accessKeys.create("link", "owner", "first");
    const api = await store.accessKeys.create("api", "owner", "script");
    await store.accessKeys.revoke(api.id);
    await expect(store.accessKeys.revoke(first.id)).rejects.toMatchObject({ code: "forbidden" });
    const second = await store.accessKeys.create("link", "owner", "second");
    await store.accessKeys.revoke(first.id);
    await expect(store.accessKeys.revoke(second.id)).rejects.toMatchObject({ code: "forbidden" });
    const revoked = (await store.accessKeys.list()).filter(({ revoked_at }) => revoked_at !== null);
    expect(revoked.map(({ label }) => label).sort((a, b) => a.localeCompare(b))).toEqual(["first", "script"]);
  });

  test("the database holds no key and no token, only what cannot be turned back into one", async () => {
    const store = await newStore(sql);
    const keys = await Promise.all(PURPOSES.map((purpose) => store.accessKeys.create(purpose, "viewer", purpose)));
    const token = await exchangeLink(edgeAt(), keys[0]!.key);
    const held = JSON.stringify([
      await sql.all("SELECT * FROM access_keys ORDER BY id"),
      await sql.all("SELECT * FROM sessions ORDER BY token_hash"),
      await store.accessKeys.list(),
    ]);
    for (const secret of [token!, ...keys.map(({ key }) => key)]) expect(held).not.toContain(secret);
  });

  test("a key has 256 bits and needs no escaping in an address", () => {
    const place = { place: "" };
    const key = newKey(place, (bytes) => new Uint8Array(bytes).fill(255));
    expect(key).toBe(`${"_".repeat(42)}8`);
    expect(new Set(Array.from({ length: 100 }, () => newKey(place, random))).size).toBe(100);
  });
});
