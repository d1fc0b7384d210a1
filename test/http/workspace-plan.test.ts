import { afterEach, beforeEach, expect, test } from "vitest";
import { RETAIL_BOOK } from "../../data/price-book.ts";
import { NEW_VEHICLE } from "../../src/core/question/record.ts";
import { type LocalApp, localApp, quickQuestion } from "../support/local-app.ts";
import { formIn } from "../support/page-form.ts";

/** Who tops off, how long vehicles are kept, whose warming potentials count: said once, unless a vehicle says it. */

let app: LocalApp;
beforeEach(async () => {
  app = await localApp();
});
afterEach(() => app.close());

async function ratio(id: string): Promise<number> {
  const { options } = JSON.parse(await app.page(`/api/vehicles/${id}/assessment`)) as {
    options: { co2e_kg: number; release_g: number }[];
  };
  return (1000 * options[0]!.co2e_kg) / options[0]!.release_g;
}

async function choose(path: string, form_id: string | null, name: string, value: string): Promise<void> {
  const page = await app.page(path);
  const form =
    form_id === null ? formIn(page.replace('action="/settings"', 'id="it" action'), "it") : formIn(page, form_id);
  form.set(name, value);
  expect((await app.post(path, form)).status).toBe(303);
}

test("a set chosen in the settings holds for every vehicle that does not choose one, and is named beside the figure", async () => {
  const van = { ...NEW_VEHICLE, label: "Van", refrigerant: "R-134a", nameplate_g: 650 } as const;
  const [usual, own] = [await app.store.vehicles.create(van), await app.store.vehicles.create(van)];
  await choose(`/vehicles/${own.id}/details`, "details-form", "plan.gwp", "AR5");
  // IPCC 2021, table 7.SM.7, over 100 and over 20 years; IPCC 2013, table 8.A.1; Regulation (EU) 2024/573, Annex I.
  expect(await ratio(usual.id)).toBeCloseTo(1530, 6);
  for (const [set, potential, name] of [
    ["AR6-20", 4140, "IPCC, sixth report, over 20 years"],
    ["EU", 1430, "European Union law"],
  ] as const) {
    await choose("/settings", null, "gwp", set);
    expect(await ratio(usual.id)).toBeCloseTo(potential, 6);
    expect(await app.words(`/vehicles/${usual.id}`)).toContain(`warming potentials of ${name}`);
    expect(await ratio(own.id)).toBeCloseTo(1300, 6);
  }
  await choose("/settings", null, "gwp", "");
  expect(await ratio(usual.id)).toBeCloseTo(1530, 6);
});

interface Assessed {
  options: { id: string; expected_cost: number; cost_by_year: number[] }[];
}

test("who tops off holds for vehicles, list, quick question and forms, with a price book or without", async () => {
  const log = [{ date: "2025-06-01", cooling: "weak", added_g: 340, added_by: "cans" }] as const;
  const van = { ...NEW_VEHICLE, label: "Van", refrigerant: "R-134a", nameplate_g: 650 } as const;
  const { id } = await app.store.vehicles.create(van, {
    charge_log: [...log, { date: "2026-05-01", cooling: "weak" }],
  });
  const topOff = async () => {
    const { options } = JSON.parse(await app.page(`/api/vehicles/${id}/assessment`)) as Assessed;
    return options.find((option) => option.id === "top-off")!.expected_cost;
  };
  const asked = quickQuestion({ nameplate: "650 g", today: "weak" }, [["1 June 2025", "cans", "340 g", "weak"]]);
  const who = async () => /<input[^>]* name="service"[^>]* value="(\w+)"[^>]* checked/.exec(await app.page(asked))?.[1];
  const by_owner = await topOff();
  expect(await who()).toBe("diy");

  await choose("/settings", null, "service", "shop");
  const by_shop = await topOff();
  expect(by_shop).toBeGreaterThan(by_owner);
  expect(await who()).toBe("shop");
  expect(await app.page(`/vehicles/${id}/details`)).toMatch(/As usual: A shop/);

  await app.store.priceBooks.create({ ...RETAIL_BOOK, name: "Own" });
  expect(await who()).toBe("shop");
  await choose("/settings", null, "service", "diy");
  expect(await who()).toBe("diy");
  // Cans and one's own hour have no price in a book: they stay the general ones.
  expect(await topOff()).toBeLessThan(by_shop);
});

test("years kept hold for every vehicle; nonsense is told and nothing is saved", async () => {
  const van = { ...NEW_VEHICLE, label: "Van", refrigerant: "R-134a", nameplate_g: 650 } as const;
  const { id } = await app.store.vehicles.create(van);
  const years = async () =>
    (JSON.parse(await app.page(`/api/vehicles/${id}/assessment`)) as Assessed).options[0]!.cost_by_year.length;
  expect(await years()).toBe(5);
  await choose("/settings", null, "keep_years", "8");
  expect(await years()).toBe(8);
  const form = formIn((await app.page("/settings")).replace('action="/settings"', 'id="it" action'), "it");
  form.set("keep_years", "200");
  const refused = await app.post("/settings", form);
  expect(refused.status).toBe(422);
  expect(await refused.text()).toContain("Enter years from 0.25 to 20, like 5");
  expect(await years()).toBe(8);
});
