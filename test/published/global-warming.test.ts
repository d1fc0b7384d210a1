import { describe, expect, it } from "vitest";
import { GWP_SETS, type GwpSet, REFRIGERANTS } from "../../src/core/question/contract.ts";
import { co2eKg, gwp } from "../../src/core/refrigerant/gwp.ts";
import { readTable } from "./read-table.ts";

const CAN_G = 340.2; // 12 oz as the figures were made with
const KG_CO2_PER_GALLON = 8.887; // US EPA (2014), emission factors for greenhouse gas inventories: gasoline

describe("global warming potentials as the IPCC printed them", () => {
  const rows = readTable<"set" | "R-134a" | "R-1234yf" | "R-12">("global-warming-potentials.csv");

  it("covers every set", () => {
    expect(rows.map(({ set }) => set)).toEqual([...GWP_SETS]);
  });

  it.each(rows)("$set", ({ set, ...printed }) => {
    for (const refrigerant of REFRIGERANTS) expect(gwp(set as GwpSet, refrigerant)).toBe(+printed[refrigerant]);
  });
});

describe("a 12-ounce can of R-134a", () => {
  const rows = readTable<"set" | "co2e_kg" | "gasoline_gal">("can-co2e.csv");

  it("covers every set", () => {
    expect(rows.map(({ set }) => set)).toEqual([...GWP_SETS]);
  });

  it.each(rows)("$set: $co2e_kg kg CO₂e", ({ set, co2e_kg, gasoline_gal }) => {
    const here_kg = co2eKg(set as GwpSet, "R-134a", CAN_G);
    // Half a unit of the last printed digit.
    expect(Math.abs(here_kg - +co2e_kg)).toBeLessThanOrEqual(0.5);
    expect(Math.abs(here_kg / KG_CO2_PER_GALLON - +gasoline_gal)).toBeLessThanOrEqual(0.05);
  });

  it("the 50 gallons of the California Air Resources Board (2009) agree with AR5", () => {
    const gallons = co2eKg("AR5", "R-134a", CAN_G) / KG_CO2_PER_GALLON;
    expect(Math.abs(gallons - 50)).toBeLessThan(0.5);
  });
});
