import { describe, expect, test } from "vitest";
import { bearer, linksRuntimes } from "../../support/links-app.ts";
import { ApiDesk, CAN, VAN } from "./api-desk.ts";

const RECORDS = "/api/fleet/records";

interface Result {
  outcome: string;
  id: string | null;
  issues: { path: string; message: string }[];
}

describe.each(linksRuntimes)("the fleet as JSON on $name", ({ start }) => {
  const desk = new ApiDesk(start);

  const send = async (body: unknown, headers: Record<string, string> = {}) => {
    const answer = await desk.post(RECORDS, body, headers);
    return { ...answer, body: answer.body as unknown as Record<"vehicles" | "events", Result[]> };
  };
  const fleet = (count: number) => ({
    source: "workshop",
    vehicles: Array.from({ length: count }, (_, i) => ({ ...VAN, external_id: `v${i}`, label: `Van ${i}` })),
    events: [{ ...CAN, external_id: "w1", vehicle: "v0" }],
  });

  test("is sent in bulk, each item whole or not at all, and the same twice is no news", async () => {
    const wrong = {
      ...fleet(2),
      vehicles: [...fleet(2).vehicles, { external_id: "v9", label: "Van 9", refrigerant: "R-134a", nameplate_g: 3 }],
      events: [...fleet(2).events, { external_id: "w2", vehicle: "v0", date: "2026-13-01", amount: 3 }],
    };
    const first = await send(wrong);
    expect(first.status).toBe(200);
    expect(first.body.vehicles.map(({ outcome }) => outcome)).toEqual(["created", "created", "refused"]);
    expect(first.body.vehicles[2]!.issues).toEqual([
      { path: "nameplate_g", message: expect.stringContaining("Enter a number from") },
    ]);
    expect(first.body.events.map(({ outcome }) => outcome)).toEqual(["created", "refused"]);
    expect(first.body.events[1]!.issues.map(({ path }) => path)).toEqual(["date", "amount"]);
    const again = await send(wrong);
    expect(again.body.vehicles.map(({ outcome }) => outcome)).toEqual(["same", "same", "refused"]);
    expect(await desk.store.vehicles.count()).toBe(2);
  });

  test("takes model year and odometer, tells them with the answers, and says what is wrong with them", async () => {
    const odometer = { km: 135_506.7648, on: "2026-04-02" };
    const [van] = fleet(1).vehicles;
    const good = { ...van, model_year: 2019, odometer };
    const sent = await send({
      source: "workshop",
      vehicles: [
        good,
        { ...van, external_id: "a", odometer: { km: 12 } },
        { ...van, external_id: "b", model_year: 19 },
        { ...van, external_id: "c", odometer: { km: 12, on: "2099-01-01" } },
      ],
    });
    expect(sent.body.vehicles.map(({ outcome, issues }) => [outcome, issues.map(({ path }) => path)])).toEqual([
      ["created", []],
      ["refused", ["odometer.on"]],
      ["refused", ["model_year"]],
      ["refused", ["odometer.on"]],
    ]);
    const answers = await desk.ask("GET", "/api/fleet/answers");
    expect(answers.body.items).toMatchObject([{ model_year: 2019, odometer }]);
  });

  test("under a key gives the same answer, and refuses another call", async () => {
    const headers = { "Idempotency-Key": '"a-1"' };
    const [first, second] = [await send(fleet(2), headers), await send(fleet(2), headers)];
    expect(second.body).toEqual(first.body);
    expect((await send(fleet(3), headers)).status).toBe(422);
    expect(await desk.store.vehicles.count()).toBe(2);
  });

  test("takes a thousand items, and says what to do with more", async () => {
    expect((await send(fleet(1000))).status).toBe(422);
    const most = await send(fleet(999));
    expect(most.body.vehicles.every(({ outcome }) => outcome === "created")).toBe(true);
    expect(await desk.store.vehicles.count()).toBe(999);
    expect((await send({ vehicles: [] })).status).toBe(422);
  });

  test("is nothing for someone who may only look", async () => {
    const { headers } = await bearer(desk.store, "viewer");
    expect((await desk.ask("POST", RECORDS, fleet(1), headers)).status).toBe(403);
    expect((await desk.ask("GET", "/api/fleet/answers", undefined, headers)).status).toBe(200);
  });

  test("is answered page by page, each naming the next", async () => {
    await send(fleet(5));
    const seen: string[] = [];
    let next: string | null = "/api/fleet/answers?limit=2";
    let pages = 0;
    while (next !== null) {
      const page = await desk.get(next);
      pages++;
      seen.push(...page.body.items.map(({ label }) => label));
      const link = page.headers.get("Link");
      next = link === null ? null : /^<([^>]+)>; rel="next"$/.exec(link)![1]!;
      expect(next === null ? null : new URL(next, "http://x").searchParams.get("after")).toBe(page.body.next);
    }
    expect([pages, seen.toSorted((a, b) => (a < b ? -1 : 1))]).toEqual([
      3,
      ["Van 0", "Van 1", "Van 2", "Van 3", "Van 4"],
    ]);
    expect((await desk.get("/api/fleet/answers?after=nonsense")).status).toBe(422);
    expect((await desk.get("/api/fleet/answers?changed_since=today")).body.error.issues[0]!.path).toBe("changed_since");
  });
});
