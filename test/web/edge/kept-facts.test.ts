import { expect, test } from "vitest";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { KeptFacts } from "../../../src/web/edge/kept-facts.ts";
import { KeptPages } from "../../../src/web/edge/page-cache.ts";

const PLACE = new KeptPages(0);
const storeOf = (workspaceId: string): WorkspaceStore => ({ workspaceId }) as WorkspaceStore;

function counted() {
  let reads = 0;
  return new KeptFacts(async ({ workspaceId }) => {
    reads += 1;
    return `${workspaceId} ${reads}`;
  });
}

test("facts are read once for a stamp, and again for another one", async () => {
  const facts = counted();
  expect(await facts.of(PLACE, storeOf("a"), "1")).toBe("a 1");
  expect(await facts.of(PLACE, storeOf("a"), "1")).toBe("a 1");
  expect(await facts.of(PLACE, storeOf("a"), "2")).toBe("a 2");
  // Even one that had been before: no count says what was read then.
  expect(await facts.of(PLACE, storeOf("a"), "1")).toBe("a 3");
});

test("each workspace has its own, and each place, whose stamps may be the same", async () => {
  const facts = counted();
  expect(await facts.of(PLACE, storeOf("a"), "1")).toBe("a 1");
  expect(await facts.of(PLACE, storeOf("b"), "1")).toBe("b 2");
  expect(await facts.of(new KeptPages(0), storeOf("a"), "1")).toBe("a 3");
  expect(await facts.of(PLACE, storeOf("b"), "1")).toBe("b 2");
});

test("without a stamp, and after a failure, they are read each time", async () => {
  const facts = counted();
  expect(await facts.of(PLACE, storeOf("a"), null)).toBe("a 1");
  expect(await facts.of(PLACE, storeOf("a"), null)).toBe("a 2");
  let tries = 0;
  const failing = new KeptFacts(async () => {
    tries += 1;
    if (tries === 1) throw new Error("busy");
    return tries;
  });
  await expect(failing.of(PLACE, storeOf("a"), "1")).rejects.toThrow("busy");
  expect(await failing.of(PLACE, storeOf("a"), "1")).toBe(2);
});

test("of a thousand workspaces the ones that were read longest ago are forgotten", async () => {
  const facts = counted();
  for (let i = 0; i <= 1000; i++) await facts.of(PLACE, storeOf(`w${i}`), "1");
  expect(await facts.of(PLACE, storeOf("w1"), "1")).toBe("w1 2");
  expect(await facts.of(PLACE, storeOf("w0"), "1")).toBe("w0 1002");
});
