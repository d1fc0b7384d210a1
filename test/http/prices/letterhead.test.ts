import { describe, expect, test } from "vitest";
import { LETTERHEAD } from "../quotes/shop-desk.ts";
import { PricesDesk } from "./prices-desk.ts";

describe("the head of a quote", () => {
  const desk = new PricesDesk();

  test("the head of a quote needs a name; going on leads to our own pages only", async () => {
    const fields = { ...LETTERHEAD, shop: "" };
    expect((await desk.editor.post("/prices/letterhead", fields)).status).toBe(422);
    const lead = async (back: string, version: string) =>
      (await desk.editor.post("/prices/letterhead", { ...fields, shop: "North", back, version })).headers.get(
        "Location",
      );
    expect(await lead("/vehicles/abc/quotes/def", "0")).toBe("/vehicles/abc/quotes/def");
    for (const [i, back] of ["https://elsewhere.example", "//elsewhere.example", "/vehicles/../x", ""].entries())
      expect(await lead(back, String(i + 1))).toBe("/prices");
  });
});
