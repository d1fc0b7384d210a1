import { expect, test } from "vitest";
import { serveBench } from "../bench/serve.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. Nothing is timed. */
test("the bench of what is answered from memory sees each page", async () => {
  const found = await serveBench({ paths: ["/healthz", "/"], seconds: 0.05, rounds: 1 });
  expect(found.map(({ name }) => name.split(",")[0])).toEqual(["/healthz", "/"]);
  for (const { value } of found) expect(value).toBeGreaterThan(0);
});
