import { expect, test } from "vitest";
import { pageAnswer } from "../src/core/page-answer.ts";
import type { AssessRequest } from "../src/core/question/contract.ts";
import { warmUp } from "../src/warm-up.ts";

test("a warm-up asks different questions, one at a time", async () => {
  const asked = new Set<AssessRequest>();
  let at_once = 0;
  await warmUp({
    pageAnswer: async (request) => {
      expect(++at_once).toBe(1);
      asked.add(request);
      await Promise.resolve();
      at_once--;
      return pageAnswer(request, { sensitivity: false });
    },
  });
  expect(asked.size).toBeGreaterThan(1);
});

test("a model that has too much to do ends it without a word", async () => {
  let times = 0;
  const busy = async () => {
    times++;
    throw new Error("busy");
  };
  await expect(warmUp({ pageAnswer: busy })).resolves.toBeUndefined();
  expect(times).toBe(1);
});
