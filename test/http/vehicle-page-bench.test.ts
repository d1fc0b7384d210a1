import { expect, test } from "vitest";
import { vehiclePageBench } from "../bench/vehicle-page.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. Nothing is timed. */
test("the vehicle page bench measures three pages and a baseline, twice with the same result", async () => {
  const tiny = { vehicles: 2, entries: 3, requests: 20, rounds: 1 };
  const first = await vehiclePageBench(tiny);
  expect(first.map(({ name }) => name)).toEqual([
    "first time",
    "answer kept",
    "page kept",
    "kept page, processor time of a bare Hono page of the same size",
  ]);
  for (const { value } of first) expect(value).toBeGreaterThan(0);
  expect((await vehiclePageBench(tiny))[0]!.digest).toBe(first[0]!.digest);
});
