import { describe, expect, it } from "vitest";
import type { AssessRequest, LogEntry } from "../../../src/core/question/contract.ts";
import { questionOf } from "../../../src/core/question/question.ts";
import { leakIsAbnormal } from "../../../src/core/rules/abnormal-leak.ts";
import { localCase, localRules, underLocalRules } from "../../../src/core/rules/local-rules.ts";
import { carRequest } from "../samples.ts";

const by = (service: "diy" | "shop", changes: Partial<AssessRequest> = {}) =>
  carRequest([], { plan: { service }, ...changes });

describe("leakIsAbnormal(log)", () => {
  const FULL: LogEntry = { date: "2026-01-10", finish: "gauges", added_g: 300 };
  const low = (date: string): LogEntry => ({ date, cooling: "weak" });

  // "A charge that lasted days or weeks": how Directive 2006/40/EC Art. 6(3) and SI 2009/2194 are explained. Two months
  // is a reading of it, so nothing near the line is tested.
  it.each<[string, LogEntry[], boolean]>([
    ["nothing", [], false],
    ["full, and low in three weeks", [FULL, low("2026-01-31")], true],
    ["full, and low in a year", [FULL, low("2027-01-10")], false],
    ["low before it was filled", [low("2026-01-01"), FULL], false],
    ["a sip of unknown size, low in three weeks", [{ date: "2026-01-10", added_g: 100 }, low("2026-01-31")], false],
    ["low in weeks, then repaired", [FULL, { ...low("2026-01-31"), repair: "hose", finish: "weighed" }], false],
    [
      "low in weeks, filled again, low after a year",
      [FULL, { ...FULL, ...low("2026-01-31") }, low("2027-02-01")],
      false,
    ],
    [
      "low in weeks, filled again, cooling well after half a year",
      [FULL, { ...FULL, ...low("2026-01-31") }, { date: "2026-08-01", cooling: "ok" }],
      false,
    ],
    [
      "low in weeks, filled again, cooling well the next day",
      [FULL, { ...FULL, ...low("2026-01-31") }, { date: "2026-02-01", cooling: "ok" }],
      true,
    ],
  ])("%s: %#", (_what, log, abnormal) => {
    expect(leakIsAbnormal(log)).toBe(abnormal);
  });
});

describe("localRules(request, place, currency)", () => {
  // Wis. Admin. Code ATCP 136.16.
  it("gives what is barred, each with its rule, and the other rules that bind the one who does it", () => {
    const shop = localRules(by("shop"), "us-wi", "USD");
    expect(shop.barred.map(({ option, rule }) => [option, rule.id])).toEqual([
      ["top-off", "us-wi-leak-repair"],
      ["dye-test", "us-wi-leak-search"],
    ]);
    expect(shop.others.map(({ id }) => id)).toContain("us-609");
    expect(shop.others.map(({ id }) => id)).not.toContain("us-wi-leak-repair");
    const own = localRules(by("diy"), "us-wi", "USD");
    expect(own.barred).toEqual([]);
    expect(own.others.map(({ id }) => id)).toContain("us-small-can");
    expect(own.others.map(({ id }) => id)).not.toContain("us-609");
  });

  // 40 CFR 82.34(b): R-12 in small containers only to certified technicians.
  it("leaves out a rule about a refrigerant that is not in there", () => {
    const ids = (refrigerant: "R-134a" | "R-12") => {
      const { barred, others } = localRules(by("diy", { vehicle: { refrigerant, nameplate_g: 900 } }), "us-tx", "USD");
      return [...barred.map(({ rule }) => rule.id), ...others.map(({ id }) => id)];
    };
    expect(ids("R-134a")).not.toContain("us-r12-sale");
    expect(ids("R-12")).toContain("us-r12-sale");
  });

  // Directive 2006/40/EC Art. 6(3): an abnormal leak only. SI 2009/2194, by its note alone, warns.
  it("bars a refill after an abnormal leak, told by the log", () => {
    const log: LogEntry[] = [
      { date: "2026-03-20", finish: "weighed" },
      { date: "2026-04-20", cooling: "weak" },
    ];
    const options = (request: AssessRequest) => localRules(request, "eu", "EUR").barred.map(({ option }) => option);
    expect(options(by("shop", { log }))).toEqual(["top-off", "dye-test"]);
    expect(options(by("shop"))).toEqual([]);
    const british = localRules(by("shop", { log }), "uk", "GBP");
    expect(british.barred).toEqual([]);
    expect(british.warned.map(({ option }) => option)).toEqual(["top-off", "dye-test"]);
    expect(british.others.map(({ id }) => id)).not.toContain("uk-abnormal-leak");
  });
});

describe("underLocalRules", () => {
  const under = (request: AssessRequest, place: Parameters<typeof localRules>[1], currency = "USD") =>
    underLocalRules(request, localRules(request, place, currency));

  it("bars on top of what is barred already", () => {
    const request = carRequest([], { plan: { service: "shop", barred: ["repair", "top-off"] } });
    expect(under(request, "us-wi").plan?.barred).toEqual(["repair", "top-off", "dye-test"]);
  });

  it("asks the same where nothing is barred and there is no deposit", () => {
    const request = by("shop");
    expect(under(request, "elsewhere")).toBe(request);
  });

  // California Air Resources Board: $10 a can, until the programme ended on 2025-01-01.
  it.each([
    ["2024-12-31", 10],
    ["2025-01-01", 0],
    ["2026-11-24", 0],
  ])("California's deposit on %s: %d", (as_of, can_deposit) => {
    expect(questionOf(under(by("diy", { as_of }), "us-ca-bay-area")).prices.can_deposit).toBe(can_deposit);
  });

  it("a deposit that was said stays, and one in other money is left out", () => {
    const as_of = "2024-06-01";
    const said = by("diy", { as_of, prices: { can_deposit: 3 } });
    expect(questionOf(under(said, "us-ca")).prices.can_deposit).toBe(3);
    expect(questionOf(under(by("diy", { as_of }), "us-ca", "EUR")).prices.can_deposit).toBe(0);
  });
});

describe("localCase: as the question is put to the model where the vehicle is", () => {
  const here = (place: Parameters<typeof localRules>[1], electric = false) => ({ place, currency: "USD", electric });
  const barredIn = (request: AssessRequest) => request.plan?.barred ?? [];

  // 40 CFR 82.34(b): R-12 only to certified technicians.
  it("a shop does what a rule bars the owner from, before topping off is out", () => {
    const { request, local } = localCase(
      by("diy", { vehicle: { refrigerant: "R-12", nameplate_g: 900 } }),
      here("us-tx"),
    );
    expect(questionOf(request).plan.service).toBe("shop");
    expect(barredIn(request)).not.toContain("top-off");
    expect(local.service).toBe("shop");
    expect(local.owner_may_not.map(({ option, rule }) => [option, rule.id])).toContainEqual(["top-off", "us-r12-sale"]);
  });

  // Wis. Admin. Code ATCP 136.16 binds shops only: R-12 is barred to both there.
  it("where a shop may not either, the question stays the owner's", () => {
    const request = by("diy", { vehicle: { refrigerant: "R-12", nameplate_g: 900 } });
    const { request: asked, local } = localCase(request, here("us-wi"));
    expect(questionOf(asked).plan.service).toBe("diy");
    expect(barredIn(asked)).toContain("top-off");
    expect(local.service).toBe("diy");
  });

  it("high voltage is a shop's work, at a shop's prices, without dye", () => {
    const { request, local } = localCase(by("diy"), here("us-tx", true));
    expect([questionOf(request).plan.service, local.service]).toEqual(["shop", "shop"]);
    expect(barredIn(request)).toEqual(["dye-test"]);
  });

  it("asking twice asks the same", () => {
    for (const electric of [false, true]) {
      for (const refrigerant of ["R-134a", "R-12"] as const) {
        const once = localCase(by("diy", { vehicle: { refrigerant, nameplate_g: 900 } }), here("us-tx", electric));
        expect(localCase(once.request, here("us-tx", electric))).toEqual(once);
      }
    }
  });
});
