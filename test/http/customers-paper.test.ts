import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { NEW_VEHICLE, type VehicleInput } from "../../src/core/question/record.ts";
import { type LocalApp, localApp } from "../support/local-app.ts";

/** A customer's paper sells nothing that is not needed, and says nothing that its own figures deny. */

const YEARLY = [
  { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2025-07-20", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2026-05-01", cooling: "weak" },
] as const;

/** A worn compressor: the two sides nearly equal, warm air. */
const NOT_PUMPING = {
  date: "2026-05-01",
  ambient_c: 30,
  humidity_percent: 50,
  altitude_m: null,
  static_kpa: 770,
  low_kpa: 580,
  high_kpa: 690,
  engine_rpm: 1500,
  vent_c: 27,
  clutch: "steady",
  fan: "runs",
  condenser: "clean",
  more_air: null,
  suction_line_c: null,
  liquid_line_c: null,
  equalizing_s: null,
  sight_glass: null,
  metering: null,
  compressor: null,
  note: null,
} as const;

let app: LocalApp;
beforeEach(async () => {
  app = await localApp();
});
afterEach(() => app.close());

async function vehicle(more: Partial<VehicleInput>, lines: Parameters<LocalApp["store"]["vehicles"]["create"]>[1]) {
  const car: VehicleInput = { ...NEW_VEHICLE, label: "Car", refrigerant: "R-134a", nameplate_g: 650, ...more };
  return (await app.store.vehicles.create(car, lines)).id;
}

/** The paper of a new quote as it begins, and the draft's own page. */
async function begun(id: string): Promise<{ paper: string; draft: string; options: number }> {
  const fields = new URLSearchParams({ customer: "", keep_years: "5", book: "retail" });
  const made = await app.post(`/vehicles/${id}/quotes`, fields);
  expect(made.status).toBe(303);
  const path = made.headers.get("Location")!;
  const [quote] = await app.store.quotes.list(id);
  const { content } = await app.store.quotes.get(quote!.id);
  return { paper: await app.words(`${path}/preview`), draft: await app.words(path), options: content.options.length };
}

test("a car that was charged full today needs nothing, and is sold nothing", async () => {
  const id = await vehicle({}, { charge_log: [{ date: "2026-05-01", finish: "weighed", repair: "hose" }] });
  const { paper, options } = await begun(id);
  expect(options).toBe(0);
  expect(paper).toContain("Nothing needs to be done today");
  expect(paper).not.toMatch(/We recommend|Recharge now|without cooling|speak for it/);
});

test("a car whose compressor does not pump is not said to be low, and is sold a diagnosis, not refrigerant", async () => {
  const id = await vehicle(
    { plan: { other_trouble: "compressor-failing" } },
    { charge_log: [...YEARLY], readings: [NOT_PUMPING] },
  );
  expect((await app.store.record(id)).readings).toHaveLength(1);
  const { paper, draft } = await begun(id);
  expect(paper).toContain("First find out what is wrong");
  expect(paper).toContain("what is wrong stays as it is");
  expect(paper).not.toMatch(/cools well again|The charge is low|Recharge now/);
  expect(draft).not.toContain("The model's choice is Recharge");
});

test("the price of a repair of what is found is a range by where it leaks, on the card and in the answer", async () => {
  const id = await vehicle({}, { charge_log: [...YEARLY] });
  const { paper } = await begun(id);
  const ranges = [
    ...paper.matchAll(/Find the leak and repair it, (\$[\d,.]+ to \$[\d,.]+), by where it leaks; we ask/g),
  ];
  expect(ranges.length).toBeGreaterThan(0);
  const [, range] = ranges[0]!;
  expect(paper).toMatch(new RegExp(`Price today ${range!.replaceAll("$", "\\$")} by where it leaks; we ask you first`));
});

test("costs about the same and releases less: the paper says that it costs more, and how much", async () => {
  const id = await vehicle({}, { charge_log: [...YEARLY] });
  const { paper } = await begun(id);
  expect(paper).not.toMatch(/numbers below speak for it/i);
  expect(paper).not.toMatch(/\$0(\.00)? (more|less)/);
});

describe("where a detected leak has to be repaired", () => {
  const SEEN = { date: "2026-04-30", test: "electronic", location: "condenser", result: "leak" } as const;
  const SLOW = [
    { date: "2022-06-14", finish: "weighed" },
    { date: "2026-04-30", cooling: "weak" },
  ] as const;

  test.each([
    ["eu", false],
    ["us-tx", true],
  ] as const)("%s: a recharge in place of the repair is offered: %s", async (place, offered) => {
    const settings = await app.store.settings.get();
    await app.store.settings.update({ ...settings, place }, settings.version);
    const id = await vehicle({}, { charge_log: [...SLOW], findings: [SEEN] });
    const { paper } = await begun(id);
    if (offered) expect(paper).toContain("Recharge now");
    else expect(paper).not.toContain("Recharge now");
    expect(paper).toMatch(/[Rr]eplace the condenser|[Rr]epair the condenser/);
  });
});
