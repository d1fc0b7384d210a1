import { describe, expect, test, vi } from "vitest";
import type { AssessAnswer, AssessRequest } from "../../../src/core/question/contract.ts";
import { engines } from "../engines.ts";
import { VAN } from "../samples.ts";
import { anAnswer, aQuestion, RecordsDatabase } from "./records-database.ts";

describe.each(engines)("a workspace on $name", ({ start }) => {
  const database = new RecordsDatabase(start);

  describe("assessments.answer", () => {
    test("computes once for one question and one model, again for another of either", async () => {
      const store = await database.newStore();
      const { id } = await store.vehicles.create(VAN);
      const assess = vi.fn(() => anAnswer);
      const later = { ...aQuestion, as_of: "2026-05-02" };
      expect(await store.assessments.answer(id, aQuestion, "1", assess)).toEqual(anAnswer);
      expect(await store.assessments.answer(id, { ...aQuestion }, "1", assess)).toEqual(anAnswer);
      expect(assess).toHaveBeenCalledTimes(1);
      await store.assessments.answer(id, later, "1", assess);
      await store.assessments.answer(id, aQuestion, "2", assess);
      expect(assess).toHaveBeenCalledTimes(3);
    });

    test("the order of fields in a question makes no difference", async () => {
      const store = await database.newStore();
      const { id } = await store.vehicles.create(VAN);
      const assess = vi.fn(() => anAnswer);
      await store.assessments.answer(id, aQuestion, "1", assess);
      const { as_of, vehicle } = aQuestion;
      const { refrigerant, nameplate_g } = vehicle;
      await store.assessments.answer(id, { vehicle: { nameplate_g, refrigerant }, as_of }, "1", assess);
      expect(assess).toHaveBeenCalledTimes(1);
    });

    test("keeps the latest few of a vehicle, so that years of days do not pile up", async () => {
      const store = await database.newStore();
      const { id } = await store.vehicles.create(VAN);
      for (let day = 10; day < 20; day += 1)
        await store.assessments.answer(id, { ...aQuestion, as_of: `2026-05-${day}` }, "1", () => anAnswer);
      const [row] = await database.sql.all<{ n: number }>(
        "SELECT count(*) AS n FROM assessments WHERE vehicle_id = ?",
        [id],
      );
      expect(row!.n).toBe(5);
      const assess = vi.fn(() => anAnswer);
      await store.assessments.answer(id, { ...aQuestion, as_of: "2026-05-19" }, "1", assess);
      expect(assess).not.toHaveBeenCalled();
    });
  });

  describe("assessments.answers", () => {
    test("gives the kept ones and computes the rest, in the order asked", async () => {
      const store = await database.newStore();
      const ids = await Promise.all(
        Array.from({ length: 12 }, async (_, i) => (await store.vehicles.create({ ...VAN, label: `Van ${i}` })).id),
      );
      const asked = ids.map((vehicle_id, i) => ({
        vehicle_id,
        request: { ...aQuestion, vehicle: { ...aQuestion.vehicle, nameplate_g: 600 + i } },
      }));
      const assess = vi.fn(({ vehicle }: AssessRequest) => ({ as_of: `${vehicle.nameplate_g}` }) as AssessAnswer);
      await store.assessments.answers(asked.slice(5), "1", assess);
      expect(assess).toHaveBeenCalledTimes(7);
      const answers = await store.assessments.answers(asked, "1", assess);
      expect(assess).toHaveBeenCalledTimes(12);
      expect(answers.map((answer) => Number(answer?.as_of))).toEqual(ids.map((_, i) => 600 + i));
      expect(await store.assessments.answer(ids[0]!, asked[0]!.request, "1", assess)).toEqual({ as_of: "600" });
      expect(assess).toHaveBeenCalledTimes(12);
      expect(await store.assessments.answers([], "1", assess)).toEqual([]);
    });

    test("keeps nothing under a vehicle of another workspace", async () => {
      const { ids } = await database.storeWithRecords();
      const stranger = await database.newStore();
      const asked = [{ vehicle_id: ids.vehicle, request: aQuestion }];
      expect(await stranger.assessments.answers(asked, "1", () => anAnswer)).toEqual([anAnswer]);
      expect(
        await database.sql.all("SELECT 1 FROM assessments WHERE workspace_id = ?", [stranger.workspaceId]),
      ).toEqual([]);
    });
  });
});
