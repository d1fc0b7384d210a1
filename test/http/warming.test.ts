import { afterEach, beforeEach, expect, test } from "vitest";
import { NEW_VEHICLE } from "../../src/core/question/record.ts";
import { type LocalApp, localApp } from "../support/local-app.ts";
import { formIn } from "../support/page-form.ts";

/** Whose warming potentials count is said once in the settings, and a vehicle may say otherwise. */

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
