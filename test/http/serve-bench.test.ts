import { expect, test } from "vitest";
import { serveBench } from "../bench/serve.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. Nothing is timed. */
test("the bench of what is answered from memory sees each page", async () => {
  const found = await serveBench({ paths: ["/healthz", "/"], requests: 50, rounds: 1 });
  expect(found.map(({ name }) => name.split(",")[0])).toEqual(["/healthz", "/"]);
  for (const { beside } of found) expect(beside).toMatch(/^\d+ µs against \d+; \d+ a second against \d+$/);
});
