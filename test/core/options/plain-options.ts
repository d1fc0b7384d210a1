import type { ClockReading } from "../../../src/core/leak/leak-clock.ts";
import { posteriorOf } from "../../../src/core/leak/posterior.ts";
import { outlookOf } from "../../../src/core/options/outlook.ts";
import type { AssessRequest, LocationId, OptionId } from "../../../src/core/question/contract.ts";
import { LOCATION_IDS } from "../../../src/core/question/contract.ts";
import { type Question, questionOf } from "../../../src/core/question/question.ts";

/**
 * The options written down once more, plainly and slowly: every node, place and rule is walked on its own, money falls
 * due at its time, nothing is shared. It takes the posterior's nodes, the beliefs, the guard and the start from the
 * code under test (each has tests of its own) and works out costs, releases, spreads and values from the model's text.
 */

const GWP = {
  AR4: { "R-134a": 1430, "R-1234yf": 4, "R-12": 10900 },
  AR5: { "R-134a": 1300, "R-1234yf": 1, "R-12": 10200 },
  AR6: { "R-134a": 1530, "R-1234yf": 0.501, "R-12": 12500 },
  "AR6-20": { "R-134a": 4140, "R-1234yf": 1.81, "R-12": 12700 },
  EU: { "R-134a": 1430, "R-1234yf": 0.501, "R-12": 11200 },
} as const;
const FALSE_ALARM = { dye: 0.02, electronic: 0.08, visual: 0.1 } as const;
const LEAST_SEEN_G = { dye: 10, electronic: 4, visual: 40 } as const;
const SEEP_Z = [0.318639363964375, -0.318639363964375, 1.150349380376008, -1.150349380376008];
const DYE_WAIT = 0.1;

interface Path {
  cost_by_year: number[];
  release_by_year_g: number[];
}

interface Course {
  kind: "repair" | "repair-after-dye" | "top-off";
  months: number;
}

export interface PlainOption {
  id: OptionId;
  expected_cost: number;
  release_g: number;
  expected_cost_with_carbon: number;
  cost_by_year: number[];
  release_by_year_g: number[];
  cost_p05: number;
  cost_p95: number;
  probability_cheapest: number;
  leads_to_repair: number | null;
}

const total = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0);
const zeros = (length: number) => new Array<number>(length).fill(0);

export function plainOptions(request: AssessRequest) {
  const question = questionOf(request);
  const posterior = posteriorOf(question);
  const { nodes, start, known, comparison } = outlookOf(question, posterior);
  const { plan, prices } = question;
  const years = Math.ceil(plan.keep_years);
  const rules = [plan.floor_months, ...[6, 9, 12, 18, 24, 36, 48, 60].filter((months) => months > plan.floor_months)];
  const offered = (id: OptionId) => comparison.options.find((one) => one.id === id)?.offered ?? false;
  const carbon_per_g = (plan.carbon_price_per_t * GWP[plan.gwp][question.refrigerant]) / 1e6;
  const withCarbon = (path: Path) => total(path.cost_by_year) + carbon_per_g * total(path.release_by_year_g);
  const walker = new Walker(question, start, posterior.clocks);
  const places = LOCATION_IDS.map((_, l) => l);

  const walked = new Map<string, Path>();
  const path = (n: number, l: number, locate: number, { kind, months }: Course): Path => {
    const key = `${n} ${l} ${locate} ${kind} ${months}`;
    const known_path = walked.get(key);
    if (known_path !== undefined) return known_path;
    const node = {
      k: nodes.k[n]!,
      m: nodes.mean_m[n]!,
      b: nodes.mean_b[n]!,
      clock: posterior.clocks.growth[nodes.growth_index[n]!]!,
    };
    const made = walker.path(node, l, locate, kind, months / 12);
    walked.set(key, made);
    return made;
  };

  /** Mean over nodes and places. */
  const mean = (belief: readonly number[], locate: number, course: Course): Path => {
    const sum: Path = { cost_by_year: zeros(years), release_by_year_g: zeros(years) };
    for (let n = 0; n < nodes.count; n++) {
      for (const l of places) {
        const weight = nodes.weight[n]! * belief[l]!;
        if (weight === 0) continue;
        const one = path(n, l, locate, course);
        for (let year = 0; year < years; year++) {
          sum.cost_by_year[year]! += weight * one.cost_by_year[year]!;
          sum.release_by_year_g[year]! += weight * one.release_by_year_g[year]!;
        }
      }
    }
    return sum;
  };
  const best = (belief: readonly number[], locate: number): { course: Course; path: Path } => {
    let found: { course: Course; path: Path } | null = null;
    for (const months of rules) {
      const course: Course = { kind: "top-off", months };
      const one = mean(belief, locate, course);
      if (found === null || withCarbon(one) < withCarbon(found.path) - 1e-9) found = { course, path: one };
    }
    return found!;
  };
  const feeFor = (belief: readonly number[]) => (belief.some((share) => share >= 0.8) ? 0 : prices.locate_fee);

  // ---- repair, top-off, live without
  const fee = feeFor(known.belief);
  const REPAIR: Course = { kind: "repair", months: 0 };
  const repair = mean(known.belief, fee, REPAIR);
  const top_off = best(known.belief, fee);

  type Spread = (n: number, l: number) => { cost: number; release_g: number };
  /** What it may come to at a node and place, each with its chance. */
  type Ends = (n: number, l: number) => Outcome[];
  const endsOf =
    (course: Course, locate = fee): Ends =>
    (n, l) => {
      const cost = total(path(n, l, locate, course).cost_by_year);
      if (course.kind === "top-off") return [{ chance: 1, cost }];
      return walker.repairOutcomes(cost, course.kind === "repair" ? 0 : DYE_WAIT, l, locate);
    };
  const spreadOf =
    (course: Course): Spread =>
    (n, l) => {
      const one = path(n, l, fee, course);
      return { cost: total(one.cost_by_year), release_g: total(one.release_by_year_g) };
    };

  const out: { id: OptionId; path: Path; spread: Spread; ends: Ends; leads_to_repair: number | null }[] = [];
  out.push({ id: "repair", path: repair, spread: spreadOf(REPAIR), ends: endsOf(REPAIR), leads_to_repair: null });

  const repair_out = plan.barred.includes("repair");
  const { empty, floor_probability } = known.guards;
  const top_off_out = plan.barred.includes("top-off") || floor_probability !== null;
  const testPlan = (test: "dye" | "electronic" | "visual", fixed: number, repairing: Course) => {
    const eye = 1 - Math.exp(-known.k_g / LEAST_SEEN_G[test]);
    const sees = places.map((l) => prices[test][l]! * eye);
    const f = FALSE_ALARM[test];
    const sum: Path = { cost_by_year: zeros(years), release_by_year_g: zeros(years) };
    sum.cost_by_year[0]! += fixed;
    let leads = 0;
    const taken: { given: number[]; locate: number; course: Course }[] = [];
    for (const place of [...places, null]) {
      const given = places.map((l) =>
        place === null ? (1 - sees[l]!) * (1 - f) : l === place ? sees[l]! : ((1 - sees[l]!) * f) / 5,
      );
      const chance = total(places.map((l) => known.belief[l]! * given[l]!));
      if (chance === 0) continue;
      const belief = places.map((l) => (known.belief[l]! * given[l]!) / chance);
      const locate = place === null ? feeFor(belief) : 0;
      const repaired = mean(belief, locate, repairing);
      const topped = best(belief, locate);
      let repairs = withCarbon(repaired) <= withCarbon(topped.path);
      if (repair_out && !top_off_out) repairs = false;
      if (empty || (top_off_out && !repair_out)) repairs = true;
      if (repairs) leads += chance;
      const then = repairs ? repaired : topped.path;
      for (let year = 0; year < years; year++) {
        sum.cost_by_year[year]! += chance * then.cost_by_year[year]!;
        sum.release_by_year_g[year]! += chance * then.release_by_year_g[year]!;
      }
      taken.push({ given, locate, course: repairs ? repairing : topped.course });
    }
    const spread: Spread = (n, l) => {
      let [cost, release_g] = [fixed, 0];
      for (const { given, locate, course } of taken) {
        const one = path(n, l, locate, course);
        cost += given[l]! * total(one.cost_by_year);
        release_g += given[l]! * total(one.release_by_year_g);
      }
      return { cost, release_g };
    };
    const ends: Ends = (n, l) =>
      taken.flatMap(({ given, locate, course }) =>
        endsOf(course, locate)(n, l).map(({ chance, cost }) => ({ chance: chance * given[l]!, cost: fixed + cost })),
      );
    return { path: sum, spread, ends, leads_to_repair: leads };
  };
  const dye_fixed = prices.dye_price + prices.dye_inspection_fee * walker.D(DYE_WAIT);
  out.push({ id: "dye-test", ...testPlan("dye", dye_fixed, { kind: "repair-after-dye", months: 0 }) });
  out.push({ id: "electronic-test", ...testPlan("electronic", prices.electronic_price, REPAIR) });
  const topping = { spread: spreadOf(top_off.course), ends: endsOf(top_off.course) };
  out.push({ id: "top-off", path: top_off.path, ...topping, leads_to_repair: null });

  const without = (n: number): Path =>
    walker.without({
      k: nodes.k[n]!,
      m: nodes.mean_m[n]!,
      b: 0,
      clock: posterior.clocks.growth[nodes.growth_index[n]!]!,
    });
  if (plan.season_worth !== null) {
    const sum: Path = { cost_by_year: zeros(years), release_by_year_g: zeros(years) };
    for (let n = 0; n < nodes.count; n++) {
      const one = without(n);
      for (let year = 0; year < years; year++) {
        sum.cost_by_year[year]! += nodes.weight[n]! * one.cost_by_year[year]!;
        sum.release_by_year_g[year]! += nodes.weight[n]! * one.release_by_year_g[year]!;
      }
    }
    const spread: Spread = (n) => ({
      cost: total(without(n).cost_by_year),
      release_g: total(without(n).release_by_year_g),
    });
    const ends: Ends = (n, l) => [{ chance: 1, cost: spread(n, l).cost }];
    out.push({ id: "live-without", path: sum, spread, ends, leads_to_repair: null });
  }

  // ---- spreads over node and place
  const cells: { weight: number; compared: number[] }[] = [];
  const items: { weight: number; cost: number }[][] = out.map(() => []);
  for (let n = 0; n < nodes.count; n++) {
    for (const l of places) {
      const weight = nodes.weight[n]! * known.belief[l]!;
      const all = out.map(({ spread }) => spread(n, l));
      cells.push({ weight, compared: all.map(({ cost, release_g }) => cost + carbon_per_g * release_g) });
      for (const [o, { ends }] of out.entries()) {
        for (const { chance, cost } of ends(n, l)) items[o]!.push({ weight: weight * chance, cost });
      }
    }
  }
  const quantile = (o: number, p: number): number => {
    const sorted = items[o]!.toSorted((a, b) => a.cost - b.cost);
    let reached = 0;
    for (const { weight, cost } of sorted) {
      reached += weight;
      if (reached >= p - 1e-12) return cost;
    }
    return sorted.at(-1)!.cost;
  };
  const cheapest = zeros(out.length);
  for (const { weight, compared } of cells) {
    let winner = -1;
    for (const [o, { id }] of out.entries()) {
      if (offered(id) && (winner < 0 || compared[o]! < compared[winner]! * (1 - 1e-9))) winner = o;
    }
    if (winner >= 0) cheapest[winner]! += weight;
  }

  const options = out.map(
    ({ id, path: one, leads_to_repair }, o): PlainOption => ({
      id,
      expected_cost: total(one.cost_by_year),
      release_g: total(one.release_by_year_g),
      expected_cost_with_carbon: withCarbon(one),
      ...one,
      cost_p05: quantile(o, 0.05),
      cost_p95: quantile(o, 0.95),
      probability_cheapest: cheapest[o]!,
      leads_to_repair,
    }),
  );

  // ---- what knowing is worth
  const courses = options.filter(({ id }) => offered(id) && id !== "dye-test" && id !== "electronic-test");
  const base = courses.length === 0 ? null : Math.min(...courses.map((one) => one.expected_cost_with_carbon));
  const test_net = (id: OptionId) =>
    base === null || !offered(id) ? null : base - options.find((one) => one.id === id)!.expected_cost_with_carbon;
  const knowingLeak = () => {
    let sum = 0;
    for (let n = 0; n < nodes.count; n++) {
      const over = (course: Course) =>
        total(places.map((l) => (known.belief[l]! > 0 ? known.belief[l]! * withCarbon(path(n, l, fee, course)) : 0)));
      const each = courses.map(({ id }) => {
        if (id === "repair") return over(REPAIR);
        if (id === "live-without") return withCarbon(without(n));
        return Math.min(...rules.map((months) => over({ kind: "top-off", months })));
      });
      sum += nodes.weight[n]! * Math.min(...each);
    }
    return sum;
  };
  const knowingPlace = () =>
    total(
      places.map((place) => {
        const sure = places.map((l) => (l === place ? 1 : 0));
        const each = courses.map((one) => {
          if (one.id === "repair") return withCarbon(mean(sure, 0, REPAIR));
          return one.id === "live-without" ? one.expected_cost_with_carbon : withCarbon(best(sure, 0).path);
        });
        return known.belief[place]! === 0 ? 0 : known.belief[place]! * Math.min(...each);
      }),
    );
  const visual_done = known.tests_done.has("visual") || (repair_out && (top_off_out || empty));
  const value_of = {
    perfect_leak_rate: base === null ? null : Math.max(0, base - knowingLeak()),
    perfect_location: base === null ? null : Math.max(0, base - knowingPlace()),
    dye_test_net: test_net("dye-test"),
    electronic_test_net: test_net("electronic-test"),
    look_over: base === null || visual_done ? null : base - withCarbon(testPlan("visual", 0, REPAIR).path),
  };
  /** Topping off at every low charge, however soon it comes. */
  const for_ever = mean(known.belief, fee, { kind: "top-off", months: 0 });
  return { options, value_of, switch_months: top_off.course.months, for_ever };
}

interface Outcome {
  chance: number;
  cost: number;
}

interface Node {
  k: number;
  m: number;
  b: number;
  clock: ClockReading;
}

/** One node's years at one place. */
class Walker {
  private readonly q: Question;
  private readonly start: { top_up_now: boolean; last_fill_season: number | null; last_fill_counts: boolean };
  private readonly season: ClockReading;
  private readonly H: number;
  private readonly tables = new Map<ClockReading, { c: number[]; R: number[] }>();

  constructor(q: Question, start: Walker["start"], clocks: { season: ClockReading }) {
    this.q = q;
    this.start = start;
    this.season = clocks.season;
    this.H = q.plan.keep_years;
  }

  D(t: number): number {
    return Math.exp(-(this.q.assumptions.discount + this.q.plan.hazard) * t);
  }

  private survival(t: number): number {
    return Math.exp(-this.q.plan.hazard * t);
  }

  /** A clock at every month to the horizon, and R: what leaks by then and still finds the vehicle alive. */
  private months(clock: ClockReading): { c: number[]; R: number[] } {
    const known = this.tables.get(clock);
    if (known !== undefined) return known;
    const c = Array.from({ length: Math.ceil(12 * this.H) + 1 }, (_, j) => clock(j / 12));
    const R = [0];
    for (let j = 1; j < c.length; j++) {
      R.push(R[j - 1]! + (c[j]! - c[j - 1]!) * Math.exp((-this.q.plan.hazard * ((j - 1) / 12 + j / 12)) / 2));
    }
    this.tables.set(clock, { c, R });
    return { c, R };
  }

  /** Straight between months. */
  private between(values: readonly number[], t: number): number {
    const j = Math.min(Math.floor(12 * t), values.length - 2);
    return values[j]! + (values[j + 1]! - values[j]!) * (12 * t - j);
  }

  /** First time at which a clock reaches `due`; null after the horizon. */
  private when(clock: ClockReading, due: number): number | null {
    const { c } = this.months(clock);
    const j = c.findIndex((value, month) => month > 0 && value >= due) - 1;
    if (j < 0) return null;
    const rise = c[j + 1]! - c[j]!;
    const t = (j + (rise > 0 ? (due - c[j]!) / rise : 0)) / 12;
    return t < this.H ? t : null;
  }

  private surviving(clock: ClockReading, t: number): number {
    return this.between(this.months(clock).R, t);
  }

  path(node: Node, l: number, locate: number, kind: Course["kind"], tau: number): Path {
    const path: Path = { cost_by_year: zeros(Math.ceil(this.H)), release_by_year_g: zeros(Math.ceil(this.H)) };
    const bill = new Bill(path);
    if (kind === "repair") {
      this.repair(bill, 0, l, locate);
      return path;
    }
    const M0 = this.q.nameplate_g;
    if (kind === "repair-after-dye") {
      if (this.start.top_up_now) this.topOff(bill, 0, Math.max(0, M0 - node.m));
      this.leak(path, node, DYE_WAIT);
      this.repair(bill, DYE_WAIT, l, locate);
      return path;
    }
    const low = Math.min(0.9 * M0, Math.max(0.1 * M0, node.b));
    let due = Math.max(0, node.m - low) / node.k;
    let grams = node.m < low ? M0 - node.m : M0 - low;
    let spell_from = this.start.last_fill_counts ? this.start.last_fill_season : null;
    if (this.start.top_up_now) {
      this.topOff(bill, 0, Math.max(0, M0 - node.m));
      due = (Math.max(node.m, M0) - low) / node.k;
      grams = M0 - low;
      spell_from = 0;
    }
    for (;;) {
      const t = this.when(node.clock, due);
      if (t === null) {
        this.leak(path, node, this.H);
        return path;
      }
      if (t > 0) bill.pay(t, this.D(t) * this.lowRisk());
      const now = this.between(this.months(this.season).c, t);
      if (spell_from !== null && now - spell_from < tau) {
        this.leak(path, node, t);
        this.repair(bill, t, l, locate);
        return path;
      }
      this.topOff(bill, t, grams);
      spell_from = now;
      grams = M0 - low;
      due += (M0 - low) / node.k;
    }
  }

  /** Living without it: the worth of each season, and what is left leaks out. */
  without(node: Node): Path {
    const path: Path = { cost_by_year: [], release_by_year_g: [] };
    const empty = this.when(node.clock, node.m / node.k) ?? this.H;
    for (let year = 0; year < this.H; year++) {
      const end = Math.min(this.H, year + 1);
      path.cost_by_year.push((this.q.plan.season_worth ?? 0) * this.paid(year, end));
      const until = (t: number) => node.k * this.surviving(node.clock, Math.min(t, empty));
      path.release_by_year_g.push(until(end) - until(year));
    }
    return path;
  }

  private leak(path: Path, { k, clock }: Node, until: number): void {
    for (let year = 0; year < until; year++) {
      path.release_by_year_g[year]! +=
        k * (this.surviving(clock, Math.min(until, year + 1)) - this.surviving(clock, year));
    }
  }

  private lowRisk(): number {
    const { assumptions, prices } = this.q;
    return (
      assumptions.damage_chance *
      (prices.price[LOCATION_IDS.indexOf("compressor" satisfies LocationId)]! + prices.repair_service)
    );
  }

  private topOff(bill: Bill, t: number, grams: number, share = 1): void {
    if (grams <= 0) return;
    const { plan, prices, assumptions } = this.q;
    const growth = Math.exp(assumptions.refrigerant_growth * t);
    if (plan.service === "shop") {
      bill.pay(t, share * this.D(t) * (prices.shop_topoff_fee + prices.shop_refrigerant_per_g * growth * grams));
      return;
    }
    let cans = grams / (1 - assumptions.heel) / prices.can_net_g;
    if (prices.can_seal === "pierced") cans = Math.ceil(cans - 1e-9);
    const each = prices.can_price * growth + prices.can_deposit * (1 - prices.can_return_rate);
    bill.pay(t, share * this.D(t) * (cans * each + prices.diy_hours * prices.hour_worth));
    if (!plan.tools_owned && !bill.has_tools) bill.pay(t, share * this.D(t) * prices.tools_price);
    if (share === 1) bill.has_tools = true;
    bill.release(t, (share * this.survival(t) * grams * assumptions.heel) / (1 - assumptions.heel));
  }

  /** ∫ of D from `a` to `b`. */
  private paid(a: number, b: number): number {
    const rate = this.q.assumptions.discount + this.q.plan.hazard;
    return rate === 0 ? b - a : (Math.exp(-rate * a) - Math.exp(-rate * b)) / rate;
  }

  private survived(a: number, b: number): number {
    return (Math.exp(-this.q.plan.hazard * a) - Math.exp(-this.q.plan.hazard * b)) / this.q.plan.hazard;
  }

  /** A repair at `t` that holds, with nothing coming back, or that does not; `mean` is what it costs on average. */
  repairOutcomes(mean: number, t: number, l: number, locate: number): Outcome[] {
    const { prices, assumptions, nameplate_g } = this.q;
    const [price, holds] = [prices.price[l]!, prices.holds[l]!];
    const rework = (price * assumptions.rework_share * (1 - holds)) / holds;
    const service = prices.repair_service + prices.shop_refrigerant_per_g * nameplate_g;
    const again = prices.service[l]! * service + locate + price + rework;
    const spared = this.D(t) * rework + assumptions.relapse_rate * this.paid(t, this.H) * again;
    const chance = holds * Math.exp(-assumptions.relapse_rate * (this.H - t));
    if (chance === 1) return [{ chance, cost: mean }];
    return [
      { chance, cost: mean - spared },
      { chance: 1 - chance, cost: (mean - chance * (mean - spared)) / (1 - chance) },
    ];
  }

  private repair(bill: Bill, t: number, l: number, locate: number): void {
    const { prices, assumptions, nameplate_g } = this.q;
    const service = (at: number) =>
      prices.repair_service +
      prices.shop_refrigerant_per_g * Math.exp(assumptions.refrigerant_growth * at) * nameplate_g;
    const holds = prices.holds[l]!;
    const price = prices.price[l]! * (1 + (assumptions.rework_share * (1 - holds)) / holds);
    bill.pay(t, this.D(t) * (prices.service[l]! * service(t) + locate + price));
    bill.release(t, 0.05 * nameplate_g * this.survival(t));
    const again = prices.service[l]! * service(0) + locate + price;
    const sound_g =
      nameplate_g * (assumptions.seep_fraction + assumptions.relapse_rate * (1 - assumptions.low_fraction));
    for (let year = Math.floor(t); year < this.H; year++) {
      const [from, to] = [Math.max(t, year), Math.min(this.H, year + 1)];
      bill.pay(year, assumptions.relapse_rate * this.paid(from, to) * again);
      bill.release(year, sound_g * this.survived(from, to));
    }
    const low = 1 - assumptions.low_fraction;
    const had_tools = bill.has_tools;
    for (const z of SEEP_Z) {
      const T = low / (assumptions.seep_fraction * Math.exp(0.5 * z));
      bill.has_tools = had_tools;
      for (let at = t + T; at < this.H; at += T) {
        this.topOff(bill, at, low * nameplate_g, 0.25);
        bill.has_tools = true;
        bill.pay(at, 0.25 * this.D(at) * this.lowRisk());
      }
    }
  }
}

/** Money and grams by the year they fall in. */
class Bill {
  has_tools = false;
  private readonly path: Path;

  constructor(path: Path) {
    this.path = path;
  }

  pay(t: number, money: number): void {
    this.path.cost_by_year[Math.floor(t)]! += money;
  }

  release(t: number, grams: number): void {
    this.path.release_by_year_g[Math.floor(t)]! += grams;
  }
}
