import { describe, expect, it } from "vitest";
import { PLACES, type PlaceId, RULES } from "../../../data/rules.ts";
import { isIsoDate } from "../../../src/core/quantities/dates.ts";
import { OPTION_IDS, REFRIGERANTS, SERVICES } from "../../../src/core/question/contract.ts";
import { barredOptions, barsIn, depositFor, isPlace, rulesFor, warnedOptions } from "../../../src/core/rules/rules.ts";

const TODAY = "2026-11-24";
const placeIds = Object.keys(PLACES) as PlaceId[];
const barred = (ruleCase: Parameters<typeof barredOptions>[0]) => barredOptions(ruleCase).map(({ option }) => option);
const warned = (ruleCase: Parameters<typeof warnedOptions>[0]) => warnedOptions(ruleCase).map(({ option }) => option);

describe("barredOptions", () => {
  // 40 CFR 82.34, and the EPA's three lawful options: no federal duty to repair before a top-off.
  it("United States: nothing, for anyone, with R-134a", () => {
    for (const service of SERVICES) {
      expect(barred({ place: "us", service, date: TODAY, refrigerant: "R-134a" })).toEqual([]);
    }
  });

  // 40 CFR 82.34(b): containers under 20 lb of a class I substance for vehicles only to certified technicians.
  it("United States: a private person cannot top off R-12, in any state", () => {
    for (const place of placeIds.filter((id) => id.startsWith("us"))) {
      expect(barred({ place, service: "diy", date: TODAY, refrigerant: "R-12" })).toEqual(["top-off", "dye-test"]);
    }
  });

  // Wis. Admin. Code ATCP 136.16(1)(a), (b), (2).
  it("Wisconsin: a paid service may neither top off nor leave a dye charge; a private person may", () => {
    expect(barred({ place: "us-wi", service: "shop", date: TODAY })).toEqual(["top-off", "dye-test"]);
    expect(barred({ place: "us-wi", service: "diy", date: TODAY })).toEqual([]);
    expect(barredOptions({ place: "us-wi", service: "shop", date: TODAY })[0]?.rule.citation).toContain("ATCP 136.16");
  });

  // Reg. 12 Rule 7 §301, second-hand and disputed: it warns, with the doubt beside it.
  it("Bay Area: a second-hand rule bars nothing", () => {
    expect(barred({ place: "us-ca-bay-area", service: "shop", date: TODAY })).toEqual([]);
    const rule = rulesFor("us-ca-bay-area", TODAY).find(({ id }) => id === "us-ca-bay-area-leak-check");
    expect(rule).toMatchObject({ grade: "second-hand", doubt: expect.stringContaining("repealed") });
  });

  // Regulation (EU) 2024/573 Art. 10(1): a training attestation for servicing, R-1234yf too.
  it("European Union: an owner may neither top off nor dye", () => {
    for (const refrigerant of ["R-134a", "R-1234yf"] as const) {
      expect(barred({ place: "eu", service: "diy", date: TODAY, refrigerant })).toEqual(["top-off", "dye-test"]);
      expect(barred({ place: "eu", service: "shop", date: TODAY, refrigerant })).toEqual([]);
    }
  });

  // Regulation (EU) 2024/590 is known by its summary alone: it warns a shop; an owner may do no such work anyway.
  it("European Union: R-12 is barred to owners, and a shop is warned", () => {
    const asked = { place: "eu", date: TODAY, refrigerant: "R-12" } as const;
    expect(barred({ ...asked, service: "diy" })).toEqual(["top-off", "dye-test"]);
    expect(barred({ ...asked, service: "shop" })).toEqual([]);
    expect(warned({ ...asked, service: "shop" })).toEqual(["top-off", "dye-test"]);
    expect(warned({ ...asked, service: "diy" })).toEqual([]);
  });

  // M.R. 103/94 s. 11(4), 12(1), its text.
  it("Manitoba: nobody puts refrigerant into a leak", () => {
    for (const service of SERVICES) {
      expect(barred({ place: "ca-mb", service, date: TODAY, refrigerant: "R-134a" })).toEqual(["top-off", "dye-test"]);
    }
  });

  // Q-2, r. 29, s. 31, its text, binds a shop; that owners may not at all is the government's summary.
  it("Québec: a shop puts no refrigerant into a leak, and an owner is warned", () => {
    expect(barred({ place: "ca-qc", service: "shop", date: TODAY })).toEqual(["top-off", "dye-test"]);
    expect(barred({ place: "ca-qc", service: "diy", date: TODAY })).toEqual([]);
    expect(warned({ place: "ca-qc", service: "diy", date: TODAY })).toEqual(["top-off", "dye-test"]);
  });

  // O. Reg. 463/10 as the Government of Ontario tells it; Regulations 1995 as Australia's licensing board does, which
  // do not cover R-1234yf. Neither text was read.
  it.each(["ca-on", "au"] as const)("%s: everyone is warned, and nothing barred", (place) => {
    for (const service of SERVICES) {
      expect(barred({ place, service, date: TODAY, refrigerant: "R-134a" })).toEqual([]);
      expect(warned({ place, service, date: TODAY, refrigerant: "R-134a" })).toEqual(["top-off", "dye-test"]);
    }
    expect(warned({ place: "au", service: "diy", date: TODAY, refrigerant: "R-1234yf" })).toEqual([]);
  });

  // Directive 2006/40/EC Art. 6(3), its text.
  it("European Union: a service provider after an abnormal leak only", () => {
    expect(barred({ place: "eu", service: "shop", date: TODAY, abnormal_leak: true })).toEqual(["top-off", "dye-test"]);
    expect(barred({ place: "eu", service: "shop", date: TODAY, abnormal_leak: false })).toEqual([]);
    expect(barred({ place: "eu", service: "shop", date: TODAY })).toEqual([]);
  });

  // SI 2009/2194 reg. 3, known by its explanatory note, which is no part of it.
  it.each(["uk", "gb", "ni"] as const)("%s: a service provider is warned after an abnormal leak", (place) => {
    expect(barred({ place, service: "shop", date: TODAY, abnormal_leak: true })).toEqual([]);
    expect(warned({ place, service: "shop", date: TODAY, abnormal_leak: true })).toEqual(["top-off", "dye-test"]);
    expect(warned({ place, service: "shop", date: TODAY })).toEqual([]);
  });

  it("elsewhere: nothing", () => {
    for (const service of SERVICES) {
      for (const refrigerant of REFRIGERANTS) {
        expect(barred({ place: "elsewhere", service, date: TODAY, refrigerant, abnormal_leak: true })).toEqual([]);
      }
    }
  });

  it("only a rule whose text was read bars", () => {
    for (const place of placeIds) {
      for (const { rule } of barsIn(place, TODAY)) expect(rule.grade, rule.id).toBe("text-read");
    }
    expect(RULES.filter(({ grade, bars }) => grade === "not-verified" && bars.length > 0)).toEqual([]);
  });

  it("keeps every place that records may name", () => {
    const before = ["us", "us-ca", "us-ca-bay-area", "us-fl", "us-ny", "us-tx", "us-wi", "eu", "uk", "elsewhere"];
    for (const id of before) expect(isPlace(id), id).toBe(true);
  });
});

describe("depositFor", () => {
  // California Air Resources Board: $10, back within 90 days, from 2010-01-01, ended on 2025-01-01.
  it("California until the end of 2024", () => {
    expect(depositFor("us-ca", "2024-12-31")).toMatchObject({
      per_can: 10,
      return_within_days: 90,
      return_by: "2025-03-31",
    });
    expect(depositFor("us-ca-bay-area", "2010-01-01")).toMatchObject({ per_can: 10, return_by: "2010-04-01" });
    expect(depositFor("us-ca", "2009-12-31")).toBeNull();
    expect(depositFor("us-ca", "2025-01-01")).toBeNull();
  });

  it("none anywhere today", () => {
    for (const place of placeIds) expect(depositFor(place, TODAY)).toBeNull();
  });
});

describe("rulesFor", () => {
  it("puts the place's own rules before those around it", () => {
    const places = rulesFor("us-ca-bay-area", TODAY).map(({ place }) => place);
    expect(places[0]).toBe("us-ca-bay-area");
    expect(places.at(-1)).toBe("us");
    expect(places).toContain("us-ca");
  });

  it("asks for self-sealing cans in the United States since 2018, in California since 2010", () => {
    const valve = (place: PlaceId, date: string) =>
      rulesFor(place, date).some(({ can_valve }) => can_valve === "self-sealing");
    expect(valve("us", "2017-12-31")).toBe(false);
    expect(valve("us", "2018-01-01")).toBe(true);
    expect(valve("us-ca", "2010-01-01")).toBe(true);
    expect(valve("us-ca", "2009-12-31")).toBe(false);
  });

  it("has at least one rule for every place", () => {
    for (const place of placeIds) expect(rulesFor(place, TODAY).length, place).toBeGreaterThan(0);
  });

  it("refuses a date that is none", () => {
    expect(() => rulesFor("us", "2026-02-30")).toThrow(RangeError);
  });
});

describe("the rules", () => {
  it("have their own id, a citation, a source, real dates, and bar only known options", () => {
    expect(new Set(RULES.map(({ id }) => id)).size).toBe(RULES.length);
    for (const rule of RULES) {
      expect(rule.says, rule.id).not.toBe("");
      expect(rule.citation, rule.id).not.toBe("");
      expect(rule.source, rule.id).not.toBe("");
      expect(isIsoDate(rule.checked), rule.id).toBe(true);
      for (const date of [rule.from, rule.until]) if (date !== null) expect(isIsoDate(date), rule.id).toBe(true);
      for (const bar of rule.bars) expect(OPTION_IDS).toContain(bar.option);
      if (rule.bars.length > 0) expect(rule.binds, rule.id).not.toEqual([]);
    }
  });
});
