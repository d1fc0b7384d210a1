import { expect, test } from "vitest";
import { fleetBench } from "./fleet.bench.ts";

// The bench itself runs on demand; this keeps it from rotting, and its results from depending on the run.
test("the fleet bench runs, twice with the same results", async () => {
  const first = await fleetBench(24);
  const second = await fleetBench(24);
  expect(first.map(({ name, digest }) => [name, digest])).toEqual(second.map(({ name, digest }) => [name, digest]));
  expect(first[0]!.name).toBe("import of 24 vehicles, 240 entries");
});
