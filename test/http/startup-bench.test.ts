import { join } from "node:path";
import { expect, test } from "vitest";
import { startupBench } from "../bench/startup.bench.ts";
import { DIST } from "../support/paths.ts";

// Of what is built already; the bench itself builds first, which would disturb the tests beside this one.
test("the startup bench sees the first page", async () => {
  const [measurement] = await startupBench({ rounds: 1, command: [process.execPath, join(DIST, "node.js")] });
  expect(measurement!.value).toBeGreaterThan(0);
});
