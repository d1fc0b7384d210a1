import { describe, expect, test } from "vitest";
import { pageAnswer } from "../../../src/core/page-answer.ts";
import { MODEL_IN_PLACE } from "../../../src/web/edge/model.ts";
import { followUpList } from "../../../src/web/reminders/follow-ups.ts";
import { feedEvents } from "../../../src/web/reminders/routes.ts";
import { Database } from "../../store/database.ts";
import { engines } from "../../store/engines.ts";
import { CAN, VAN } from "../../store/samples.ts";

const NOW = { now: () => new Date("2026-05-01T12:00:00Z") };

describe.each(engines)("a shop of 600 vehicles on $name", ({ start }) => {
  const database = new Database(start);

  /** 600 vehicles, each with dye put in on a day. */
  async function shop(date: string) {
    const store = await database.newStore();
    const { id } = await store.vehicles.create({ ...VAN, label: "Van 1" });
    await store.chargeLog.add(id, { ...CAN, date, dye: "added" });
    const one = await store.transfer.export();
    const numbers = Array.from({ length: 600 }, (_, i) => i + 1);
    const copied = (n: number) => (n === 1 ? id : `${id.slice(0, -4)}${String(n).padStart(4, "0")}`);
    await store.transfer.import({
      ...one,
      vehicles: numbers.map((n) => ({ ...one.vehicles[0]!, id: copied(n), label: `Van ${n}` })),
      charge_log: numbers.map((n) => ({ ...one.charge_log[0]!, id: `e-${copied(n)}`, vehicle_id: copied(n) })).slice(1),
    });
    // What the model says of one goes for all: they are the same.
    let asked = 0;
    let answer: ReturnType<typeof pageAnswer> | null = null;
    const model: typeof MODEL_IN_PLACE = {
      ...MODEL_IN_PLACE,
      pageAnswer: async (request) => {
        asked++;
        answer ??= pageAnswer(request, { sensitivity: false });
        return answer;
      },
    };
    return { store, deps: { model, ...NOW }, asked: () => asked };
  }

  test("what the model has to be asked of is worked out over two looks; what is overdue is there at the first, and in the calendar", async () => {
    // Five weeks after 5 January is 9 February: long overdue.
    const { store, deps, asked } = await shop("2026-01-05");
    const first = await followUpList(deps, store);
    expect([first.waiting, asked()]).toEqual([100, 500]);
    const overdue = first.due.filter(({ key, overdue }) => overdue && key.startsWith("dye-inspection"));
    expect(new Set(overdue.map(({ vehicle }) => vehicle.id)).size).toBe(600);
    const second = await followUpList(deps, store);
    expect([second.waiting, asked()]).toEqual([0, 600]);
    expect(second.due.length).toBeGreaterThanOrEqual(first.due.length);
    const looks = (await feedEvents(deps, store, "")).filter(({ uid }) => uid.startsWith("dye-inspection"));
    expect(new Set(looks.map(({ url }) => url)).size).toBe(600);
    expect(looks.map(({ summary }) => summary).join("\n")).toContain("Van 600: ");
  });
});
