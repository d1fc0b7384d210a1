import { expect, test } from "vitest";
import { memoryBench } from "../bench/memory.bench.ts";

/** The bench runs on demand; here at its tiniest, so that it cannot rot. */
test("the bench of memory asks for a bit of everything, and tells what the server has after each part", async () => {
  const told: string[] = [];
  const found = await memoryBench({ requests: 80, every: 40, vehicles: 2, say: (line) => told.push(line) });
  expect(told).toEqual([
    expect.stringMatching(/^40 requests: RSS [1-9]\d+ MB, heap [1-9]\d* MB/),
    expect.stringMatching(/^80 requests: RSS [1-9]\d+ MB, heap [1-9]\d* MB/),
  ]);
  for (const status of [200, 303, 400, 404, 422]) expect(found[0]!.beside).toMatch(new RegExp(`\\d × ${status}\\b`));
});
