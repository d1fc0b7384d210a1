import fc from "fast-check";
import type { AssessRequest } from "../../src/core/question/contract.ts";

/**
 * Random requests by the contract's own words, written down a second time on purpose: the parser's ranges come from
 * `data/parameters.ts`, and a slip there should show here.
 */
const REFRIGERANTS = ["R-134a", "R-1234yf", "R-12"] as const;
const PLACES = ["service-port", "joint", "hose", "condenser", "evaporator", "compressor"] as const;
const OPTIONS = ["repair", "dye-test", "electronic-test", "top-off", "live-without"] as const;

/**
 * Anything in the range: mostly as people say it, often an end, and some of the tiny numbers that floats are full of.
 */
const number = (min: number, max: number) =>
  fc.oneof(
    {
      weight: 3,
      arbitrary: fc.integer({ min: 0, max: 1000 }).map((part) => Math.min(max, min + ((max - min) * part) / 1000)),
    },
    { weight: 1, arbitrary: fc.constantFrom(min, max) },
    { weight: 1, arbitrary: fc.double({ min, max, noNaN: true }) },
  );
const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: null });
const optional = <T>(shape: { [K in keyof T]: fc.Arbitrary<T[K]> }) => fc.record(shape, { requiredKeys: [] });

const DAY_MS = 24 * 3600 * 1000;
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 10);
const FIRST_LOG_DAY_MS = Date.parse("1980-01-01");

/**
 * A day that a log may name when the question is asked on `as_of`: from 1980 and from 40 years before, weighted to the
 * last five years.
 */
function logDate(as_of: string): fc.Arbitrary<string> {
  const last = Date.parse(as_of) / DAY_MS;
  const forty_years_before = `${Number(as_of.slice(0, 4)) - 40}${as_of.slice(4)}`;
  const first = Math.max(Date.parse(forty_years_before), FIRST_LOG_DAY_MS) / DAY_MS;
  return fc
    .oneof(
      { weight: 3, arbitrary: fc.integer({ min: Math.max(first, last - 5 * 365), max: last }) },
      { weight: 1, arbitrary: fc.integer({ min: first, max: last }) },
    )
    .map((day) => iso(day * DAY_MS));
}

function logEntry(as_of: string, nameplate_g: number) {
  const amount = maybe(fc.oneof(number(0, 3 * nameplate_g), number(0, nameplate_g), fc.constant(0)));
  return fc
    .tuple(
      fc.record({ date: logDate(as_of) }),
      optional({
        cooling: maybe(fc.constantFrom("ok", "weak", "short-cycling", "empty")),
        recovered_g: amount,
        added_g: amount,
        added_by: maybe(fc.constantFrom("scale", "cans")),
        finish: maybe(fc.constantFrom("weighed", "gauges", "low-side", "unknown")),
        repair: fc.oneof(
          { weight: 4, arbitrary: fc.constant(null) },
          { weight: 1, arbitrary: fc.constantFrom(...PLACES) },
        ),
      }),
    )
    .map(([when, what]) => ({ ...when, ...what }));
}

function finding(as_of: string) {
  return fc.oneof(
    fc.record({
      date: logDate(as_of),
      test: fc.constantFrom("dye", "electronic", "visual"),
      location: fc.constantFrom(...PLACES),
      result: fc.constantFrom("leak", "clean"),
    }),
    fc.record({
      date: logDate(as_of),
      test: fc.constantFrom("dye", "electronic", "visual"),
      location: fc.constant("anywhere" as const),
      result: fc.constant("clean" as const),
    }),
  );
}

const plan = optional({
  keep_years: maybe(number(0.25, 20)),
  floor_months: maybe(number(0, 24)),
  service: maybe(fc.constantFrom("diy", "shop")),
  other_trouble: maybe(fc.constantFrom("none", "some", "compressor-failing")),
  season_worth: maybe(number(0, 100_000)),
  carbon_price_per_t: maybe(number(0, 10_000)),
  gwp: maybe(fc.constantFrom("AR4", "AR5", "AR6", "AR6-20", "EU")),
  tools_owned: maybe(fc.boolean()),
  barred: maybe(fc.subarray([...OPTIONS])),
  readings: maybe(fc.constantFrom("low", "not-low", "undecided")),
});

const place = optional({
  share: maybe(number(0.01, 1)),
  price: maybe(number(0, 5000)),
  holds: maybe(number(0.05, 1)),
  service: maybe(number(0, 1)),
  dye: maybe(number(0, 1)),
  electronic: maybe(number(0, 1)),
  visual: maybe(number(0, 1)),
});

const prices = optional({
  can_price: maybe(number(0, 500)),
  can_net_g: maybe(number(50, 1000)),
  can_deposit: maybe(number(0, 50)),
  can_return_rate: maybe(number(0, 1)),
  can_seal: maybe(fc.constantFrom("self-sealing", "pierced")),
  diy_hours: maybe(number(0, 10)),
  hour_worth: maybe(number(0, 200)),
  tools_price: maybe(number(0, 1000)),
  shop_topoff_fee: maybe(number(0, 1000)),
  shop_refrigerant_per_g: maybe(number(0, 5)),
  repair_service: maybe(number(0, 2000)),
  locate_fee: maybe(number(0, 1000)),
  dye_price: maybe(number(0, 500)),
  dye_inspection_fee: maybe(number(0, 500)),
  electronic_price: maybe(number(0, 500)),
  locations: maybe(optional(Object.fromEntries(PLACES.map((id) => [id, maybe(place)])))),
});

const assumptions = optional({
  low_fraction: maybe(number(0.3, 0.85)),
  low_sd: maybe(number(0.01, 0.3)),
  discount: maybe(number(0, 1)),
  refrigerant_growth: maybe(number(0, 1)),
  damage_chance: maybe(number(0, 1)),
  rework_share: maybe(number(0, 1)),
  relapse_rate: maybe(number(0, 1)),
  seep_fraction: maybe(number(0.005, 0.5)),
  heel: maybe(number(0, 0.5)),
});

/**
 * Requests that the contract allows, at the ends of its ranges as well as between them; logs of up to `max_entries`.
 */
export function validRequests({ max_entries = 12 } = {}): fc.Arbitrary<AssessRequest> {
  const day = fc.oneof(
    { weight: 3, arbitrary: fc.constant("2026-05-01") },
    {
      weight: 1,
      arbitrary: fc
        .integer({ min: Date.parse("1990-01-01") / DAY_MS, max: Date.parse("2100-01-01") / DAY_MS })
        .map((n) => iso(n * DAY_MS)),
    },
  );
  return fc.tuple(day, number(100, 20_000)).chain(([as_of, nameplate_g]) =>
    fc.record(
      {
        as_of: fc.constant(as_of),
        vehicle: fc.record(
          {
            refrigerant: fc.constantFrom(...REFRIGERANTS),
            nameplate_g: fc.constant(nameplate_g),
            monthly_mean_c: maybe(fc.array(number(-40, 50), { minLength: 12, maxLength: 12 })),
          },
          { requiredKeys: ["refrigerant", "nameplate_g"] },
        ),
        log: maybe(fc.array(logEntry(as_of, nameplate_g), { maxLength: max_entries })),
        findings: maybe(fc.array(finding(as_of), { maxLength: 4 })),
        plan: maybe(plan),
        prices: maybe(prices),
        assumptions: maybe(assumptions),
      },
      { requiredKeys: ["as_of", "vehicle"] },
    ),
  ) as fc.Arbitrary<AssessRequest>;
}
