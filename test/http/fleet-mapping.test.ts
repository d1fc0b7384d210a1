import { expect, test } from "vitest";
import { fleetApp } from "../support/fleet-app.ts";

const HEADER = "Fahrzeug;refrigerant;nameplate;Datum;Zustand";

test("a file with the headers of an earlier one is read the same way by itself, and says so where it can be changed", async () => {
  const { upload, post, textOf, store } = await fleetApp("2026-05-01");
  const first = (await upload(`${HEADER}\nVan 1;R-134a;30;3/4/2026;schwach\n`, "April.csv")).headers.get("Location")!;
  expect(await textOf(first)).toContain("What do the columns mean?");
  const answers = {
    "f0-column-0": "vehicle",
    "f0-column-1": "refrigerant",
    "f0-column-2": "nameplate",
    "f0-column-3": "date",
    "f0-column-4": "cooling",
  };
  // A word of a column is asked about once the column is known.
  expect((await post(`${first}/answers`, answers)).status).toBe(422);
  const rest = { "f0-unit-2": "oz", "f0-date": "day-first", "f0-word-4-schwach": "weak" };
  expect((await post(`${first}/answers`, { ...answers, ...rest })).status).toBe(303);
  expect(await textOf(first)).toContain("1 row can be imported");
  await post(`${first}/take`);

  const second = (
    await upload(`${HEADER}\nVan 1;;;5/4/2026;schwach\nVan 2;R-134a;30;6/4/2026;schwach\n`, "May.csv")
  ).headers.get("Location")!;
  expect(await textOf(second)).toContain("2 rows can be imported");
  expect(await textOf(`${second}?columns`)).toContain("Its headers are those of an earlier file");
  await post(`${second}/take`);
  const [van] = (await store.vehicles.list({ search: "Van 1" })).items;
  const log = await store.chargeLog.list(van!.id);
  expect(log.map(({ date, cooling }) => [date, cooling])).toEqual([
    ["2026-04-03", "weak"],
    ["2026-04-05", "weak"],
  ]);

  // Other headers are asked about anew.
  const third = (await upload("Wagen;refrigerant\nVan 3;R-134a\n", "June.csv")).headers.get("Location")!;
  expect(await textOf(third)).toContain("What do the columns mean?");
});
