import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { createTestHarness } from "wrangler";
import { AMOUNT_TEXTS, OTHER_TEXTS, shownAmounts, shownOthers } from "../published/amount-texts.ts";
import { ROOT } from "../support/paths.ts";

interface Shown {
  amounts: string[];
  others: string[];
}

async function shownOnWorkers(): Promise<Shown> {
  const main = join(ROOT, "test/http/number-texts.worker.ts");
  const config = { name: "number-texts", main, compatibility_date: "2026-10-01" };
  const harness = createTestHarness({ workers: [{ config }] });
  try {
    const { url } = await harness.listen();
    return (await (await harness.fetch(url.href)).json()) as Shown;
  } finally {
    await harness.close();
  }
}

/** Both runtimes bring locale data of their own; nobody must see which of them a page came from. */
describe.each([
  ["Node", async (): Promise<Shown> => ({ amounts: shownAmounts(), others: shownOthers() })],
  ["Workers", shownOnWorkers],
])("numbers and amounts on %s", (_name, shown) => {
  test("are written as each locale writes them", async () => {
    const { amounts, others } = await shown();
    expect(amounts).toEqual(AMOUNT_TEXTS.map(([, , , text]) => text));
    expect(others).toEqual(OTHER_TEXTS.map(([, text]) => text));
  });
});
