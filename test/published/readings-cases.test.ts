import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { confusionTable, shareOfLow, verdictOf } from "./confusion.ts";
import { PUBLISHED_CASES } from "./readings-cases.ts";

const TABLE_FROM = "<!-- confusion table, written by its test -->";
const TABLE_TO = "<!-- end of it -->";

const named = PUBLISHED_CASES.map((one, i) => ({ ...one, name: `${i + 1} ${one.trouble}: ${one.what} (${one.role})` }));
const of = (...troubles: string[]) => named.filter(({ trouble }) => troubles.includes(trouble));

describe("published gauge readings", () => {
  it.each(of("normal"))("$name does not read low: $source", (one) => {
    const { judgement } = verdictOf(one);
    expect(judgement.says).not.toBe("low");
    expect(judgement.first).not.toBe("low-charge");
    expect(judgement.first).not.toBe("nearly-empty");
  });

  it.each(of("restriction", "valve open", "compressor", "evaporator", "blend door", "overcharge or airflow", "air"))(
    "$name is not low with more than 0.5: $source",
    (one) => {
      const { judgement } = verdictOf(one);
      expect(shareOfLow(judgement)).toBeLessThanOrEqual(0.5);
      expect(judgement.says).not.toBe("low");
    },
  );

  it.each(of("low"))("$name is found: $source", (one) => {
    const { judgement } = verdictOf(one);
    expect(["low-charge", "nearly-empty"]).toContain(judgement.first);
    expect(judgement.says).not.toBe("not-low");
  });

  it("says that strong undercharge is low, in every refrigerant, at altitude, with every compressor", () => {
    const strong = of("low").filter(({ what }) => what.startsWith("strong undercharge"));
    expect(strong.length).toBeGreaterThanOrEqual(11);
    for (const one of strong) expect(verdictOf(one).judgement.says, one.name).toBe("low");
  });

  it.each(named)("$name: never wrong and at least 0.8 sure", (one) => {
    expect(verdictOf(one).sure_and_wrong).toBe(false);
  });

  it.each(named)("$name: says low on two signs at least", (one) => {
    const { says, low_signs } = verdictOf(one).judgement;
    if (says === "low") expect(low_signs).toBeGreaterThanOrEqual(2);
  });

  it("names the trouble, or leaves it open, in nine of ten cases that set nothing", () => {
    const tests = named.filter(({ role }) => role === "tests");
    const right = tests.filter((one) => verdictOf(one).first_right);
    expect(tests.length).toBeGreaterThan(80);
    expect(right.length / tests.length).toBeGreaterThan(0.9);
  });

  // `WRITE_TABLE=yes npx vitest run … test/published/readings-cases.test.ts` writes it anew.
  it("stands in DEVELOPERS.md as these cases come out", () => {
    const kept = readFileSync("DEVELOPERS.md", "utf8");
    const now = `${TABLE_FROM}\n\n${confusionTable()}\n\n${TABLE_TO}`;
    const [before, after] = [kept.indexOf(TABLE_FROM), kept.indexOf(TABLE_TO) + TABLE_TO.length];
    expect(before).toBeGreaterThan(0);
    if (process.env.WRITE_TABLE !== undefined) {
      writeFileSync("DEVELOPERS.md", kept.slice(0, before) + now + kept.slice(after));
      return;
    }
    // The formatter pads the columns.
    const unpadded = (table: string) => table.replace(/ /g, "").replace(/-{2,}/g, "-");
    expect(unpadded(kept.slice(before, after))).toBe(unpadded(now));
  });
});
