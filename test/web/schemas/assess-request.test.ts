import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { parseAssessRequest } from "../../../src/web/schemas/assess-request.ts";
import { TODAY } from "../../support/deps.ts";
import { validRequests } from "../../support/requests.ts";

/** A request with every field of the contract in it. */
function everything() {
  const place = () => ({ share: 0.2, price: 100, holds: 0.9, service: 1, dye: 0.8, electronic: 0.7, visual: 0.4 });
  return {
    as_of: TODAY,
    vehicle: { refrigerant: "R-134a", nameplate_g: 650, monthly_mean_c: [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4] },
    log: [
      {
        date: "2025-05-01",
        cooling: "weak",
        recovered_g: 300,
        added_g: 340,
        added_by: "cans",
        finish: "gauges",
        repair: "joint",
      },
    ],
    findings: [{ date: "2025-06-01", test: "dye", location: "hose", result: "leak" }],
    plan: {
      keep_years: 5,
      floor_months: 6,
      service: "diy",
      other_trouble: "none",
      season_worth: 150,
      carbon_price_per_t: 0,
      gwp: "AR6",
      tools_owned: false,
      barred: ["repair"],
      readings: "low",
    },
    prices: {
      can_price: 12,
      can_net_g: 340,
      can_deposit: 0,
      can_return_rate: 0.9,
      can_seal: "self-sealing",
      diy_hours: 0.75,
      hour_worth: 15,
      tools_price: 60,
      shop_topoff_fee: 150,
      shop_refrigerant_per_g: 0.11,
      repair_service: 180,
      locate_fee: 110,
      dye_price: 25,
      dye_inspection_fee: 0,
      electronic_price: 110,
      locations: {
        "service-port": place(),
        joint: place(),
        hose: place(),
        condenser: place(),
        evaporator: place(),
        compressor: place(),
      },
    },
    assumptions: {
      low_fraction: 0.6,
      low_sd: 0.1,
      discount: 0.03,
      refrigerant_growth: 0.05,
      damage_chance: 0.01,
      rework_share: 0.5,
      relapse_rate: 0.03,
      seep_fraction: 0.08,
      heel: 0.1,
    },
  };
}

type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

/** `everything()` with one field replaced. */
function withField(path: string, value: Json): Json {
  const request: Json = structuredClone(everything());
  const keys = path.split(".");
  const last = keys.pop() as string;
  let at: { [key: string]: Json } = request;
  for (const key of keys) at = at[key] as { [key: string]: Json };
  at[last] = value;
  return request;
}

function leafPaths(value: Json, path: string[] = []): string[] {
  if (typeof value !== "object" || value === null) return [path.join(".")];
  return Object.entries(value).flatMap(([key, part]) => leafPaths(part, [...path, key]));
}

function objectPaths(value: Json, path: string[] = []): string[] {
  if (typeof value !== "object" || value === null) return [];
  const below = Object.entries(value).flatMap(([key, part]) => objectPaths(part, [...path, key]));
  return Array.isArray(value) ? below : [path.join("."), ...below];
}

function wrongPaths(body: unknown): string[] {
  const parsed = parseAssessRequest(body, TODAY);
  return parsed.ok ? [] : parsed.issues.map(({ path }) => path);
}

const REQUIRED = new Set([
  "vehicle.refrigerant",
  "vehicle.nameplate_g",
  ...Array.from({ length: 12 }, (_, month) => `vehicle.monthly_mean_c.${month}`),
  "log.0.date",
  "findings.0.date",
  "findings.0.test",
  "findings.0.location",
  "findings.0.result",
  "plan.barred.0",
]);

describe("parseAssessRequest takes what the contract allows", () => {
  test("every field at once", () => {
    expect(parseAssessRequest(everything(), TODAY)).toEqual({ ok: true, request: everything() });
  });

  test("the least: a refrigerant and a nameplate charge, asked today", () => {
    const vehicle = { refrigerant: "R-1234yf", nameplate_g: 480 };
    expect(parseAssessRequest({ vehicle }, "2024-02-29")).toEqual({
      ok: true,
      request: { as_of: "2024-02-29", vehicle },
    });
    expect(parseAssessRequest({ vehicle, as_of: null }, "2024-02-29")).toMatchObject({
      request: { as_of: "2024-02-29" },
    });
  });

  test("any valid request", () => {
    fc.assert(
      fc.property(validRequests({ max_entries: 200 }), (request) => {
        expect(wrongPaths(request)).toEqual([]);
      }),
      {
        numRuns: 300,
      },
    );
  });

  test.each(leafPaths(everything()).filter((path) => !REQUIRED.has(path)))("%s: null, like absent", (path) => {
    expect(wrongPaths(withField(path, null))).toEqual([]);
  });
});

describe("parseAssessRequest refuses, naming the field", () => {
  test.each(leafPaths(everything()))("%s of a wrong kind", (path) => {
    for (const wrong of ["🥶", {}, [[]], path.endsWith("tools_owned") ? 1 : true])
      expect(wrongPaths(withField(path, wrong)).some((found) => found === path || found.startsWith(`${path}.`))).toBe(
        true,
      );
  });

  test.each([...REQUIRED])("%s missing", (path) => {
    expect(wrongPaths(withField(path, null))).toContain(path);
  });

  test.each(objectPaths(everything()))("an unknown field in “%s”", (path) => {
    for (const unknown of ["nameplate_oz", "__proto__", "constructor", "🥶", ""]) {
      const request = JSON.parse(JSON.stringify(everything()));
      let at = request;
      for (const key of path === "" ? [] : path.split(".")) at = at[key];
      Object.defineProperty(at, unknown, { value: 1, enumerable: true });
      expect(wrongPaths(request)).toEqual([path === "" ? unknown : `${path}.${unknown}`]);
    }
  });

  test.each([null, 1, "log", [], [everything()], true])("a body that is no object: %j", (body) => {
    const parsed = parseAssessRequest(body, TODAY);
    expect(parsed).toMatchObject({ ok: false, issues: [{ path: "" }] });
  });
});

/** Ranges of the contract, copied from its text. */
const RANGES: [path: string, min: number, max: number][] = [
  ["vehicle.nameplate_g", 100, 20_000],
  ["vehicle.monthly_mean_c.0", -40, 50],
  ["vehicle.monthly_mean_c.11", -40, 50],
  ["log.0.recovered_g", 0, 3 * 650],
  ["log.0.added_g", 0, 3 * 650],
  ["plan.keep_years", 0.25, 20],
  ["plan.floor_months", 0, 24],
  ["plan.season_worth", 0, 100_000],
  ["plan.carbon_price_per_t", 0, 10_000],
  ["prices.can_return_rate", 0, 1],
  ["prices.locations.joint.holds", 0.05, 1],
  ["prices.locations.joint.dye", 0, 1],
  ["prices.locations.joint.electronic", 0, 1],
  ["prices.locations.joint.visual", 0, 1],
  ["assumptions.low_fraction", 0.3, 0.85],
  ["assumptions.low_sd", 0.01, 0.3],
  ["assumptions.discount", 0, 1],
  ["assumptions.refrigerant_growth", 0, 1],
  ["assumptions.damage_chance", 0, 1],
  ["assumptions.rework_share", 0, 1],
  ["assumptions.relapse_rate", 0, 1],
  ["assumptions.seep_fraction", 0.005, 0.5],
  ["assumptions.heel", 0, 0.5],
];

describe("ranges", () => {
  test.each(RANGES)("%s from %d to %d", (path, min, max) => {
    const step = Math.max(1e-9, (max - min) * 1e-9);
    // The nameplate charge moves the limit of the amounts, which is another rule.
    const paths = (value: number) => wrongPaths(withField(path, value)).filter((found) => found === path);
    expect(paths(min)).toEqual([]);
    expect(paths(max)).toEqual([]);
    expect(paths(min - step)).toEqual([path]);
    expect(paths(max + step)).toEqual([path]);
  });

  test.each(leafPaths(everything()).filter((path) => path.startsWith("prices.") && !path.endsWith("can_seal")))(
    "%s is not negative",
    (path) => {
      expect(wrongPaths(withField(path, -0.01))).toEqual([path]);
    },
  );
});

describe("dates", () => {
  test.each([
    "2026-02-29",
    "2026-13-01",
    "2026-00-10",
    "2026-1-1",
    "01/05/2026",
    "last summer",
    "",
    "2026-05-01T00:00",
  ])("%j is none", (text) => {
    for (const path of ["as_of", "log.0.date", "findings.0.date"])
      expect(wrongPaths(withField(path, text))).toContain(path);
  });

  test.each([
    ["1990-01-01", true],
    ["2100-01-01", true],
    ["1989-12-31", false],
    ["2100-01-02", false],
    ["0001-01-01", false],
  ])("as_of %s: %s", (as_of, allowed) => {
    expect(wrongPaths({ as_of, vehicle: everything().vehicle })).toEqual(allowed ? [] : ["as_of"]);
  });

  test.each([
    ["2026-05-01", "2026-05-01", true],
    ["2026-05-01", "2026-05-02", false],
    ["2026-05-01", "1986-05-01", true],
    ["2026-05-01", "1986-04-30", false],
    ["2010-05-01", "1980-01-01", true],
    ["2010-05-01", "1979-12-31", false],
    ["2028-02-29", "1988-02-29", true],
    ["2028-02-29", "1988-02-28", false],
  ])("asked on %s, a log entry of %s: %s", (as_of, date, allowed) => {
    const request = { as_of, vehicle: everything().vehicle, log: [{ date: as_of }, { date }] };
    expect(wrongPaths(request)).toEqual(allowed ? [] : ["log.1.date"]);
    const findings = [{ date, test: "dye", location: "joint", result: "clean" }];
    expect(wrongPaths({ as_of, vehicle: everything().vehicle, findings })).toEqual(allowed ? [] : ["findings.0.date"]);
  });

  test("without as_of, today is the limit", () => {
    const request = { vehicle: everything().vehicle, log: [{ date: "2026-05-02" }] };
    expect(wrongPaths(request)).toEqual(["log.0.date"]);
  });
});

describe("rules across fields", () => {
  test("200 log entries and 100 findings are taken, one more is not", () => {
    const { vehicle, log, findings } = everything();
    const of = (entries: number, found: number) => ({
      as_of: TODAY,
      vehicle,
      log: Array.from({ length: entries }, () => log[0]),
      findings: Array.from({ length: found }, () => findings[0]),
    });
    expect(wrongPaths(of(200, 100))).toEqual([]);
    expect(wrongPaths(of(201, 100))).toEqual(["log"]);
    expect(wrongPaths(of(200, 101))).toEqual(["findings"]);
  });

  test("eleven or thirteen months are not a year", () => {
    for (const months of [0, 11, 13])
      expect(
        wrongPaths(
          withField(
            "vehicle.monthly_mean_c",
            Array.from({ length: months }, () => 10),
          ),
        ),
      ).toEqual(["vehicle.monthly_mean_c"]);
  });

  test("“anywhere” goes with “clean” only", () => {
    const finding = { date: "2025-06-01", test: "visual", location: "anywhere" };
    expect(wrongPaths(withField("findings", [{ ...finding, result: "clean" }]))).toEqual([]);
    expect(wrongPaths(withField("findings", [{ ...finding, result: "leak" }]))).toEqual(["findings.0.location"]);
  });

  test("not all shares can be 0; those left out keep their default", () => {
    const none = { share: 0 };
    const five = { "service-port": none, joint: none, hose: none, condenser: none, evaporator: none };
    expect(wrongPaths(withField("prices.locations", five))).toEqual([]);
    expect(wrongPaths(withField("prices.locations", { ...five, compressor: none }))).toEqual(["prices.locations"]);
  });

  test("everything wrong is told at once", () => {
    const request = {
      as_of: TODAY,
      vehicle: { refrigerant: "R-22", nameplate_g: 650 },
      log: [
        { date: "2026-05-02", added_g: 1951 },
        { date: "2025-05-01", added_oz: 12 },
      ],
      findings: [{ date: "2025-06-01", test: "dye", location: "anywhere", result: "leak" }],
      plan: { keep_years: "five" },
    };
    expect(new Set(wrongPaths(request))).toEqual(
      new Set([
        "findings.0.location",
        "log.0.added_g",
        "log.0.date",
        "log.1.added_oz",
        "plan.keep_years",
        "vehicle.refrigerant",
      ]),
    );
  });

  test("a message says what would be right", () => {
    const parsed = parseAssessRequest(withField("plan.keep_years", -1), TODAY);
    expect(parsed).toEqual({
      ok: false,
      issues: [{ path: "plan.keep_years", message: "Enter a number from 0.25 to 20 (years)." }],
    });
  });

  test("no more than 100 issues come back, however many there are", () => {
    const fields = Object.fromEntries(Array.from({ length: 5000 }, (_, i) => [`field_${i}`, i]));
    expect(wrongPaths(fields)).toHaveLength(100);
  });
});
