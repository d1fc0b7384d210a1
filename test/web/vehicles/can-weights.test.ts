import { describe, expect, it } from "vitest";
import type { About } from "../../../src/web/vehicles/about.ts";
import { blankEntry, entryFieldsOf, readEntry } from "../../../src/web/vehicles/entry-form.ts";

const ABOUT: About = {
  vehicle: {
    id: "v",
    refrigerant: "R-134a",
    nameplate_g: 650,
    system_volume_ml: null,
    electric_compressor: false,
  },
  can_net_g: 340,
  units: "us",
  currency: "USD",
  gauges: { units: "us", gauge: "psi-gauge" },
  today: "2026-05-01",
  date_order: "month-first",
};
const read = (typed: Record<string, string>) =>
  readEntry(entryFieldsOf(new URLSearchParams({ what: "topped-off", when: "today", ...typed })), ABOUT);

describe("cans weighed before and after", () => {
  it("are logged as their difference, by scale, in place of an amount", () => {
    const result = read({ can_before: "450 g", can_after: "130 g", added: "2 cans", added_by: "cans" });
    expect(result).toMatchObject({ ok: true, input: { added_g: 320, added_by: "scale", finish: null } });
  });

  // NIST SP 811 (2008): an ounce is 28.349523125 g.
  it("may be in ounces", () => {
    const result = read({ can_before: "16.4 oz", can_after: "4.4 oz" });
    expect(result.ok && result.input.added_g).toBeCloseTo(12 * 28.349523125, 6);
  });

  it.each([
    [{ can_before: "450 g" }, "can_after", "weight after"],
    [{ can_after: "130 g" }, "can_before", "weight before"],
    [{ can_before: "130 g", can_after: "450 g" }, "can_after", "weigh more after"],
    [{ can_before: "heavy", can_after: "130 g" }, "can_before", ""],
  ])("%o says at %s what is wrong", (typed, field, words) => {
    const result = read(typed);
    expect(result.ok).toBe(false);
    expect(result.ok ? [] : result.errors).toContainEqual({ field, message: expect.stringContaining(words) });
  });

  it("say by themselves that it was topped off, and count for nothing where a shop charged by weight", () => {
    expect(blankEntry(new URLSearchParams({ can_before: "450 g" }), ABOUT).what).toBe("topped-off");
    const recharged = read({ what: "recharged", can_before: "450 g", can_after: "130 g", added: "600 g" });
    expect(recharged.ok && recharged.input.added_g).toBe(600);
  });
});
