import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { NEW_VEHICLE } from "../../src/core/question/record.ts";
import { type LocalApp, localApp, quickQuestion } from "../support/local-app.ts";
import { formIn, textOf } from "../support/page-form.ts";

/** What pages once said wrong of what someone had just told them: each test is one such case. */

let app: LocalApp;
beforeEach(async () => {
  app = await localApp();
});
afterEach(() => app.close());

const CANS = [
  ["June 2024", "cans", "1 can", "weak"],
  ["July 2025", "cans", "1 can", "weak"],
] as const;
const VAN = { ...NEW_VEHICLE, label: "The van", refrigerant: "R-134a", nameplate_g: 650 } as const;
const LOG = [
  { date: "2024-06-14", cooling: "weak", added_g: 340, added_by: "cans" },
  { date: "2025-07-20", cooling: "weak", added_g: 340, added_by: "cans" },
] as const;

/** The sentence that is the answer. */
async function answer(path: string): Promise<string> {
  const page = await app.page(path);
  return (/data-short-answer="([^"]*)"/.exec(page)?.[1] ?? "").replaceAll("&#39;", "'");
}

describe("readings that say it is low", () => {
  test("turn “leave it for now” on the vehicle's page and in the list, until the next top-off", async () => {
    const { id } = await app.store.vehicles.create(VAN, {
      charge_log: [...LOG, { date: "2025-11-20", finish: "weighed" }, { date: "2026-04-01", cooling: "ok" }],
    });
    expect(await answer(`/vehicles/${id}`)).toBe("Leave it for now");
    const form = formIn(await app.page(`/vehicles/${id}/readings`), "record-form");
    const read = { ambient: "85", low: "15", high: "115", vent: "74", rpm: "1500", clutch: "cycles-fast" };
    for (const [name, value] of Object.entries(read)) form.set(name, value);
    const kept = await app.post(`/vehicles/${id}/readings`, form);
    expect(kept.status).toBe(303);
    expect(await app.words(kept.headers.get("Location")!)).toContain("It is low");

    expect(await answer(`/vehicles/${id}`)).not.toBe("Leave it for now");
    const page = await app.words(`/vehicles/${id}`);
    expect(page).not.toMatch(/enough until/);
    expect(page).toMatch(/It counts the readings of 1 May 2026 ?: (they say )?(that )?it is low/);
    expect(await app.words("/vehicles")).not.toContain("Leave it for now");

    await app.store.chargeLog.add(id, { date: "2026-05-01", finish: "weighed" } as never);
    expect(await answer(`/vehicles/${id}`)).toBe("Leave it for now");
  });
});

describe("in the European Union", () => {
  const ASKED = quickQuestion({ where: "eu", today: "weak", keep: "5" }, [["June 2019", "scale", "9 oz", "weak"]]);

  test("an owner is told that a shop does it, and by which rule", async () => {
    const page = await app.words(ASKED);
    expect(page).toMatch(/Have a shop top it off|By a shop, because you may not/);
    expect(page).toMatch(/no work on vehicle air conditioning by the untrained/);
  });

  test("the plan buys no can", async () => {
    const plan = await app.words(ASKED.replace("/?", "/top-off?"));
    expect(plan).toContain("A rule forbids this top-off where the vehicle is");
    expect(plan).not.toMatch(/Buy \d/);
  });

  test("the rules page does not say that a private person may top off", async () => {
    const page = await app.words("/rules?place=eu");
    expect(page).toMatch(/no work on vehicle air conditioning by the untrained/);
    expect(page).not.toContain("We know of no rule against it. Owner");
  });
});

test.each(["", "service=diy"])(
  "an old address with %j about a high-voltage compressor is answered by a shop",
  async (old) => {
    const asked = `${quickQuestion({ electric: "yes", today: "weak", where: "us" }, CANS)}&${old}`;
    const page = await app.words(asked);
    expect(page).toMatch(/Have a shop/);
    expect(page).toContain("By a shop, because high voltage drives its compressor");
    expect(await app.words(asked.replace("/?", "/top-off?"))).toContain("Stop: electric compressor");
  },
);

test("a can is said to be what it was taken for, by refrigerant", async () => {
  expect(await app.words(quickQuestion({ today: "weak" }, CANS))).toContain("about mid-July 2025 · 12 oz");
  const asked = quickQuestion({ refrigerant: "R-1234yf", nameplate: "20 oz", today: "weak" }, CANS);
  expect(await app.words(asked)).toContain("about mid-July 2025 · 8 oz");
});

test("the buttons of today's look show what is entered for today", async () => {
  const { id } = await app.store.vehicles.create(VAN, { charge_log: [...LOG] });
  const pressed = async () => /value="([^"]+)" aria-pressed="true"/.exec(await app.page(`/vehicles/${id}`))?.[1];
  expect(await pressed()).toBeUndefined();
  const form = formIn(await app.page(`/vehicles/${id}`), "look");
  form.set("cooling", "weak");
  expect((await app.post(`/vehicles/${id}/looks`, form)).status).toBe(303);
  expect(await pressed()).toBe("weak");
  const before = (await app.store.record(id)).charge_log.length;
  const again = formIn(await app.page(`/vehicles/${id}`), "look");
  again.set("cooling", "weak");
  await app.post(`/vehicles/${id}/looks`, again);
  expect((await app.store.record(id)).charge_log).toHaveLength(before);
});

test("on a freezing day no page asks for vent air colder than that", async () => {
  const page = await app.words("/readings?refrigerant=R-134a&ambient=30&engine=running&low=10&high=60&vent=25&go=1");
  expect(page).toContain("running pressures tell little");
  expect(page).not.toContain("or colder");
});

test("a tie is never said to cost $0 more", async () => {
  // An owner in the European Union whose leak is abnormal: only the repair is left, with its ties.
  for (const keep of ["2", "3", "4", "5", "6", "8"])
    for (const service of ["diy", "shop"])
      expect(await app.words(`${quickQuestion({ today: "weak", keep, service, where: "eu" }, CANS)}`)).not.toMatch(
        /\$0 (more|less)/,
      );
});

describe("a plan for a vehicle whose answer is another", () => {
  test("begins with the answer, then says how much at most if it is topped off anyway", async () => {
    const fast = ["2025-09-15", "2025-12-20", "2026-03-01"].map((date) => [date, "cans-gauges", "10 oz", "weak"]);
    const asked = quickQuestion({ today: "weak", nameplate: "20 oz", where: "us" }, fast);
    expect(await answer(asked)).toMatch(/^Repair it/);
    const plan = await app.words(
      `${asked.replace("/?", "/top-off?")}&ambient=85&compressor=belt&contents=as-labeled&seal=self-sealing`,
    );
    expect(plan).not.toMatch(/Top-off plan Add \d/);
    expect(plan).toMatch(/Repair it|Find the leak|a charge that does not last/i);
  });

  test("what leaves the cans, goes in and stays is one sum", async () => {
    const plan = await app.words(
      quickQuestion({ today: "weak", where: "us" }, CANS).replace("/?", "/top-off?") +
        "&ambient=85&compressor=belt&contents=as-labeled&seal=self-sealing",
    );
    const [, leaves, stays] = /About ([\d.]+) oz leaves the cans by weight; the hose and the can keep about ([\d.]+) oz/
      .exec(plan)!
      .map(Number) as [number, number, number];
    const [, most] = /no more than ([\d.]+) oz in total/.exec(plan)!.map(Number) as [number, number];
    expect(stays).toBeGreaterThan(0);
    expect(leaves - stays).toBe(most);
    const [, out, left] = /Buy 1 can : ([\d.]+) oz out of it, ([\d.]+) oz stays in it/.exec(plan)!.map(Number) as [
      number,
      number,
      number,
    ];
    expect([out, out + left]).toEqual([leaves, 12]);
  });
});

test("where nothing was found, the chart of locations does not speak of what tests showed", async () => {
  const { id } = await app.store.vehicles.create(VAN, {
    charge_log: [LOG[0], { date: "2024-07-01", repair: "hose", finish: "weighed" }, LOG[1]] as never,
    findings: [{ date: "2024-06-20", test: "dye", location: "hose", result: "leak" }] as never,
  });
  // The one test is from before the repair, and counts for nothing.
  expect(await app.words(`/vehicles/${id}`)).not.toMatch(/after what the tests? showed/i);
});

test("a rule that nobody could read says so, and when it was recorded", async () => {
  const page = await app.words("/rules?place=jp");
  expect(page).toContain("Not verified");
  expect(page).not.toMatch(/from memory/i);
});

test("limits of temperature and sensitivity stand in both units, or in the reader's", async () => {
  const plan = await app.words(
    quickQuestion({ today: "weak", where: "us" }, CANS).replace("/?", "/top-off?") +
      "&ambient=85&compressor=belt&contents=as-labeled&seal=self-sealing",
  );
  for (const celsius of plan.match(/\d+ °C(?! \()/g) ?? []) expect(celsius).toBe("in no unit but °C");
  const tests = await app.words("/leak-tests");
  for (const grams of tests.match(/\b\d+ g(?! \(| a year to| of)\b/g) ?? [])
    expect(tests).toMatch(new RegExp(`${grams} \\(|\\(${grams}\\)`));
});

test("an answer with errors lists them once", async () => {
  const asked = `${quickQuestion({ today: "weak" }, [["the day", "cans", "x", "weak"]])}&go=1`;
  const refused = textOf(await app.refused(asked));
  const summary = /Fix (?:this|these \d+ things) to continue ([^?]*?)(?: Vehicle| Refrigerant| Is the)/.exec(
    refused,
  )?.[1];
  expect(summary).toBeDefined();
  expect(refused.split(/Fix (?:this|these)/).length - 1).toBe(1);
});
