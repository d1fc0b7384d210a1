import { describe, expect, test } from "vitest";
import { fleetAnswer } from "../../src/core/fleet/answer.ts";
import { picturesOf } from "../../src/core/fleet/pictures.ts";
import type { FleetRow, FleetTotals, ReckonedRow } from "../../src/core/fleet/row.ts";
import { questionOf } from "../../src/core/question/question.ts";
import { ComparePage } from "../../views/fleet/compare-page.tsx";
import { FleetPage, type FleetPageProps } from "../../views/fleet/fleet-page.tsx";

/** The first sentence of the fleet's pages, against what a reader must take from it. */

const MANNER = { units: "us", currency: "USD", prices: { currency: "USD", wanted: null, book: null } } as const;
const asset = (name: string) => `/${name}`;
const headingOf = (page: unknown) => /<h1[^>]*>(.*?)<\/h1>/s.exec(String(page))?.[1];

/** The three figures above the pictures, each after what it is. */
const figuresOf = (page: string) =>
  Array.from(page.matchAll(/<dt>(.*?)<\/dt><dd[^>]*>(.*?)<\/dd>/gs), ([, what, figure]) =>
    `${what}: ${figure}`.replaceAll(/<[^>]+>/g, "").replaceAll(/\s+/g, " "),
  );

const { audit: _, ...answer } = fleetAnswer(
  questionOf({ as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 }, log: [] }),
);

interface Case {
  option: ReckonedRow["verdict"];
  guard?: "floor" | null;
  cost_as_is?: number;
  cost_best?: number;
}

function row(label: string, { option, guard = null, cost_as_is = 100, cost_best = 100 }: Case): FleetRow {
  return {
    id: label,
    label,
    refrigerant: "R-134a",
    nameplate_g: 650,
    fleet_group: null,
    depot: null,
    model_year: null,
    odometer: null,
    reckoned: {
      as_of: "2026-05-01",
      leak_g_per_year: 100,
      leak_share: 0.15,
      low_now: false,
      no_entries: false,
      charge_share: 0.6,
      next_low: null,
      verdict: option,
      sure: null,
      cost_as_is,
      cost_best,
      release_as_is_g: 100,
      release_best_g: 50,
      co2e_as_is_kg: 150,
      co2e_best_kg: 75,
      watch_date: null,
      own_share: 0.5,
      answer: { ...answer, no_entries: false, verdict: { option, guard, tie_break: false } },
    },
  };
}

const TOP_OFF: Case = { option: "top-off" };
const TOO_FAST: Case = { option: "repair", guard: "floor", cost_as_is: 180, cost_best: 220 };
const SAVES: Case = { option: "repair", cost_as_is: 300, cost_best: 260 };

describe("vehicles side by side", () => {
  test.each<[string, readonly Case[]]>([
    ["No vehicle to compare", []],
    ["Van 1: top it off", [TOP_OFF]],
    ["Both vehicles: repair it, don&#39;t top it off", [TOO_FAST, TOO_FAST]],
    ["All 3 vehicles: top it off", [TOP_OFF, TOP_OFF, TOP_OFF]],
    // What must not be done comes before what could be saved.
    ["1 of 3 leaks too fast to be topped off again", [TOO_FAST, SAVES, TOP_OFF]],
    ["2 of 3 leak too fast to be topped off again", [TOO_FAST, TOO_FAST, TOP_OFF]],
    ["Van 2 gains most: about $40 a year by repairing", [TOP_OFF, SAVES]],
    ["Topping off is the cheapest for all of them", [TOP_OFF, { option: "check-first" }]],
    ["All 3 vehicles: ask a certified shop", [{ option: null }, { option: null }, { option: null }]],
  ])("%s", (heading, cases) => {
    const rows = cases.map((one, i) => row(`Van ${i + 1}`, one));
    expect(headingOf(ComparePage({ rows, cut: false, manner: MANNER, asset }))).toContain(heading);
  });
});

describe("the fleet", () => {
  function fleet(
    by_verdict: FleetTotals["by_verdict"],
    cost_as_is = 900,
    cost_best = 800,
    repairs_that_pay = 1,
  ): string {
    const reckoned = by_verdict.reduce((sum, { vehicles }) => sum + vehicles, 0);
    const all: FleetTotals = {
      vehicles: reckoned,
      reckoned,
      repairs_that_pay,
      cost_as_is,
      cost_best,
      release_as_is_g: 1000,
      release_best_g: 500,
      co2e_as_is_kg: 1500,
      co2e_best_kg: 700,
      by_verdict,
    };
    const props: FleetPageProps = {
      state: {
        search: "",
        fleet_group: "",
        depot: "",
        refrigerant: "",
        verdict: "",
        low: "",
        sort: "label",
        descending: false,
        page: 1,
        selected: [],
        all_selected: false,
      },
      rows: [],
      ages: { model_year: false, odometer: false },
      totals: all,
      pictures: {
        pictures: picturesOf(
          Array.from({ length: reckoned }, (_, i) => ({
            id: String(i),
            fleet_group: null,
            leak_share: 0.1,
            no_entries: false,
            release_as_is_g: 100,
            low_now: false,
            next_low: null,
          })),
          { today: "2026-05-01", soon: "2026-08-01" },
        ),
        years: [],
        labels: new Map(),
        today: "2026-05-01",
        lowAddress: () => "/fleet",
      },
      filtered: false,
      all_vehicles: reckoned,
      choices: { groups: [], depots: [], refrigerants: [] },
      cohorts: [],
      progress: { run: null, due: 0, may_edit: false },
      pages: 1,
      address: () => "/fleet",
      manner: MANNER,
      may_edit: false,
      asset,
    };
    return String(FleetPage(props));
  }

  test("counts for topping off only those whose answer it is", () => {
    const page = fleet([
      { verdict: "top-off", vehicles: 7 },
      { verdict: "dye-test", vehicles: 3 },
    ]);
    expect(headingOf(page)).toBe("No repair pays off now: topping off is the answer for 7 of 10 vehicles");
    expect(headingOf(fleet([{ verdict: "top-off", vehicles: 7 }]))).toBe(
      "No repair pays off now: topping off is the answer for all 7 vehicles",
    );
    expect(headingOf(fleet([{ verdict: "dye-test", vehicles: 3 }]))).toBe(
      "No repair pays off now: the table shows what to do",
    );
  });

  test("says what following the answers comes to, saving or not", () => {
    const repairs = [{ verdict: "repair", vehicles: 1 }];
    expect(headingOf(fleet(repairs))).toBe("1 vehicle is worth repairing");
    expect(figuresOf(fleet(repairs))).toEqual([
      "saved by following every answer: $100 a year",
      "less than topping off: 800 kg CO₂e a year",
      "low now or by 1 August 2026: 0 vehicles",
    ]);
    expect(figuresOf(fleet(repairs, 800, 900))[0]).toBe("more to spend by following every answer: $100 a year");
  });

  test("calls none worth repairing that costs more in all, and says why it is repaired", () => {
    const repairs = [{ verdict: "repair", vehicles: 3 }];
    expect(headingOf(fleet(repairs, 900, 800, 1))).toBe(
      "1 vehicle is worth repairing, 2 more for less release or the rules",
    );
    expect(headingOf(fleet(repairs, 800, 900, 0))).toBe("No repair saves money; 3 for less release or the rules");
  });
});
