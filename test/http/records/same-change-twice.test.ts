import { describe, expect, test } from "vitest";
import { linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, CAN, VAN } from "./api-desk.ts";

describe.each(linksRuntimes)("the records as JSON on $name", ({ start }) => {
  const desk = new ApiDesk(start);

  describe("the same change arriving twice", () => {
    test("is made once", async () => {
      const headers = { "Idempotency-Key": '"6f1c7d6e-a"' };
      const [first, second] = [
        await desk.post("/api/vehicles", VAN, headers),
        await desk.post("/api/vehicles", VAN, headers),
      ];
      expect([second.status, second.body]).toEqual([201, first.body]);
      expect(await desk.store.vehicles.count()).toBe(1);
      const entry = `/api/vehicles/${first.body.id}/charge-log`;
      const lines = [
        await desk.post(entry, CAN, { "Idempotency-Key": "b" }),
        await desk.post(entry, CAN, { "Idempotency-Key": "b" }),
      ];
      expect(lines[1]!.body).toEqual(lines[0]!.body);
      expect(await desk.store.chargeLog.list(first.body.id)).toHaveLength(1);
    });

    test("with something else in it is refused", async () => {
      const headers = { "Idempotency-Key": "a" };
      await desk.post("/api/vehicles", VAN, headers);
      expect((await desk.post("/api/vehicles", { ...VAN, label: "Van 3" }, headers)).status).toBe(409);
    });

    test.each([" ", "x".repeat(65), "a b", "é"])("is not known by the key %j", async (idempotency_key) => {
      const answer = await desk.post("/api/vehicles", VAN, { "Idempotency-Key": encodeURI(idempotency_key) });
      expect([answer.status, answer.body.error.issues[0]!.path]).toEqual([422, "Idempotency-Key"]);
    });
  });
});
