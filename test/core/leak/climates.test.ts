import { describe, expect, it } from "vitest";
import { CLIMATES } from "../../../data/climates.ts";

describe("climate presets", () => {
  it("are at least ten, each with its own id and name", () => {
    expect(CLIMATES.length).toBeGreaterThanOrEqual(10);
    expect(new Set(CLIMATES.map(({ id }) => id)).size).toBe(CLIMATES.length);
    expect(new Set(CLIMATES.map(({ name }) => name)).size).toBe(CLIMATES.length);
  });

  it.each(CLIMATES)("$id has twelve means that a question may carry, a source and a description", (climate) => {
    expect(climate.monthly_mean_c).toHaveLength(12);
    // −40 to 50 °C: the range that the assess contract takes.
    for (const t_c of climate.monthly_mean_c) expect(t_c >= -40 && t_c <= 50).toBe(true);
    expect(climate.source.length).toBeGreaterThan(20);
    expect(climate.description).toMatch(/^[A-Z].*\.$/);
  });

  it.each(CLIMATES)("$id is warmest in the summer of its hemisphere", ({ id, monthly_mean_c }) => {
    const [north, south] = [monthly_mean_c[6], monthly_mean_c[0]];
    const spread = Math.max(...monthly_mean_c) - Math.min(...monthly_mean_c);
    // Near the equator the sun has no favorite half of the year.
    if (spread < 5) return;
    expect(id.startsWith("southern-") ? south > north : north > south).toBe(true);
  });
});
