import { describe, expect, it } from "vitest";
import { atmosphereKpa } from "../../../src/core/refrigerant/atmosphere.ts";

describe("atmosphereKpa(altitude_m)", () => {
  // US Standard Atmosphere 1976, table I, by geopotential height; from memory, to the digits that are sure.
  it.each([
    [-500, 107.47, 0.01],
    [0, 101.325, 0],
    [500, 95.46, 0.01],
    [1000, 89.87, 0.01],
    [1500, 84.56, 0.01],
    [2000, 79.5, 0.01],
    [3000, 70.11, 0.02],
    [5000, 54.02, 0.02],
  ])("%d m: %d kPa", (altitude_m, p_kpa, within) => {
    expect(Math.abs(atmosphereKpa(altitude_m) - p_kpa)).toBeLessThanOrEqual(within);
  });

  // A gauge that is off by what 1500 m makes of it: about 2.4 psi (common practice: half a psi per 1000 ft).
  it("half a psi for every 1000 ft", () => {
    const psi = (atmosphereKpa(0) - atmosphereKpa(1000 * 0.3048)) / 6.894757;
    expect(psi).toBeCloseTo(0.5, 1);
  });
});
