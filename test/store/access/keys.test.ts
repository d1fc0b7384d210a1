import { describe, expect, test } from "vitest";
import { accessOfKey, exchangeLink, PURPOSES } from "../../../src/store/access.ts";
import { newKey } from "../../../src/store/ids.ts";
import { engines, random } from "../engines.ts";
import { AccessDatabase } from "./access-database.ts";

describe.each(engines)("access on $name", ({ start }) => {
  const database = new AccessDatabase(start);

  describe("a bearer key", () => {
    test("opens its workspace in its role until it is revoked", async () => {
      const store = await database.newStore();
      const { id, key } = await store.accessKeys.create("api", "viewer", "script");
      expect(await accessOfKey(database.edgeAt(), key, "api")).toEqual({
        workspaceId: store.workspaceId,
        role: "viewer",
        actor: id,
      });
      expect(await accessOfKey(database.edgeAt(), key, "feed")).toBeNull();
      expect(await exchangeLink(database.edgeAt(), key)).toBeNull();
      await store.accessKeys.revoke(id);
      expect(await accessOfKey(database.edgeAt(), key, "api")).toBeNull();
    });

    test("is marked as used, not more than every quarter of an hour", async () => {
      const store = await database.newStore();
      const edge = database.edgeAt("2026-06-01T00:00:00Z");
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
    const store = await database.newStore();
    const { key } = await store.accessKeys.create("feed", "viewer", "calendar");
    expect(await accessOfKey(database.edgeAt(), key, "feed")).toMatchObject({
      workspaceId: store.workspaceId,
      role: "viewer",
    });
    expect(await accessOfKey(database.edgeAt(), key, "api")).toBeNull();
    expect(await exchangeLink(database.edgeAt(), key)).toBeNull();
    await expect(store.accessKeys.create("feed", "editor", "calendar")).rejects.toThrow();
  });

  test("the same submit arriving twice leaves one key, the one that was shown last", async () => {
    const store = await database.newStore();
    const keys = [];
    for (let press = 0; press < 3; press += 1)
      keys.push((await store.accessKeys.create("api", "viewer", "script", "press")).key);
    const opens = await Promise.all(keys.map((key) => accessOfKey(database.edgeAt(), key, "api")));
    expect(opens.map((access) => access !== null)).toEqual([false, false, true]);
    // One that is in use stays, whatever arrives late.
    await store.accessKeys.create("api", "viewer", "script", "press");
    expect(await accessOfKey(database.edgeAt(), keys[2]!, "api")).not.toBeNull();
    expect((await store.accessKeys.list()).filter(({ revoked_at }) => revoked_at === null)).toHaveLength(2);
  });

  test("the last owner's link cannot be revoked, any other can", async () => {
    const store = await database.newStore();
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
    const store = await database.newStore();
    const keys = await Promise.all(PURPOSES.map((purpose) => store.accessKeys.create(purpose, "viewer", purpose)));
    const token = await exchangeLink(database.edgeAt(), keys[0]!.key);
    const held = JSON.stringify([
      await database.sql.all("SELECT * FROM access_keys ORDER BY id"),
      await database.sql.all("SELECT * FROM sessions ORDER BY token_hash"),
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
