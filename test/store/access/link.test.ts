import { describe, expect, test } from "vitest";
import {
  accessOfKey,
  accessOfSession,
  endSession,
  exchangeLink,
  linkPreview,
  SESSION_DAYS,
} from "../../../src/store/access.ts";
import { newKey } from "../../../src/store/ids.ts";
import { ROLES } from "../../../src/store/roles.ts";
import { engines, random } from "../engines.ts";
import { AccessDatabase } from "./access-database.ts";

const DAY_MS = 86_400_000;

describe.each(engines)("access on $name", ({ start }) => {
  const database = new AccessDatabase(start);

  describe("a link", () => {
    test.each(ROLES)("of a %s is exchanged once for a session of that role", async (role) => {
      const store = await database.newStore();
      const edge = database.edgeAt();
      const { id, key } = await store.accessKeys.create("link", role, "phone");
      const token = await exchangeLink(edge, key);
      expect(await accessOfSession(edge, token!)).toMatchObject({
        access: { workspaceId: store.workspaceId, role, actor: id },
      });
      expect(await exchangeLink(edge, key)).toBeNull();
      expect(await accessOfSession(edge, token!)).not.toBeNull();
    });

    test("pressed twice at once opens one session", async () => {
      const store = await database.newStore();
      const { key } = await store.accessKeys.create("link", "editor", "phone");
      const tokens = await Promise.all([1, 2, 3].map(() => exchangeLink(database.edgeAt(), key)));
      expect(tokens.filter((token) => token !== null)).toHaveLength(1);
    });

    test("looked at is not used up; once used it shows nothing any more", async () => {
      const store = await database.newStore();
      const edge = database.edgeAt();
      const { key } = await store.accessKeys.create("link", "viewer", "customer");
      const preview = { workspace: "My vehicles", role: "viewer", label: "customer" };
      expect(await linkPreview(edge, key)).toEqual(preview);
      expect(await linkPreview(edge, key)).toEqual(preview);
      await exchangeLink(edge, key);
      expect(await linkPreview(edge, key)).toBeNull();
    });

    test("revoked before it was used opens nothing", async () => {
      const store = await database.newStore();
      const { id, key } = await store.accessKeys.create("link", "editor", "phone");
      await store.accessKeys.revoke(id);
      expect(await linkPreview(database.edgeAt(), key)).toBeNull();
      expect(await exchangeLink(database.edgeAt(), key)).toBeNull();
    });

    test("is no bearer key, no feed key and no session", async () => {
      const store = await database.newStore();
      const { key } = await store.accessKeys.create("link", "owner", "phone");
      expect(await accessOfKey(database.edgeAt(), key, "api")).toBeNull();
      expect(await accessOfKey(database.edgeAt(), key, "feed")).toBeNull();
      expect(await accessOfSession(database.edgeAt(), key)).toBeNull();
    });
  });

  describe("a session", () => {
    async function session() {
      const store = await database.newStore();
      const edge = database.edgeAt();
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
      expect(await accessOfSession(database.edgeAt(), newKey(database.sql, random))).toBeNull();
      expect(await accessOfSession(database.edgeAt(), "")).toBeNull();
    });
  });
});
