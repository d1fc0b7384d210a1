import type { MonthTable } from "../leak/month-table.ts";
import { decayed } from "../maths/normal.ts";
import { workRoom } from "../maths/work-room.ts";
import { emptyEvents, eventsOf, type NodeState, type Start } from "./node-events.ts";
import { Schedule } from "./schedule.ts";
import { Spans } from "./spans.ts";

/** Moments kept of the top-offs of a span: of order 0 to 5. */
const MOMENTS = 6;

/** What something counts for at a rate, per year: e^{−rate·t}. */
export class Decay {
  /** At the middle of each span. */
  readonly middle: Float64Array;
  /** At each repair. */
  readonly repairs: Float64Array;
  /** At the first top-off of each node. */
  readonly first: Float64Array;
  readonly #rate: number;
  readonly #spans: Spans;
  readonly #known = new Map<Float64Array, Map<number, Float64Array>>();

  constructor({ spans, repairs, repair_t, nodes, first_t }: Schedules, rate: number) {
    this.middle = allDecayed(rate, spans.middle, spans.count);
    this.repairs = allDecayed(rate, repair_t, repairs);
    this.first = allDecayed(rate, first_t, nodes);
    this.#rate = rate;
    this.#spans = spans;
  }

  /** `sums` of all spans before `years`, an edge; worked out once. */
  sumsBefore(moments: Float64Array, years: number): Float64Array {
    let of_moments = this.#known.get(moments);
    if (of_moments === undefined) {
      of_moments = new Map();
      this.#known.set(moments, of_moments);
    }
    let known = of_moments.get(years);
    if (known === undefined) {
      known = this.sums(moments, 0, years);
      of_moments.set(years, known);
    }
    return known;
  }

  /** Σ w·e^{−rate·t} over the spans from `from` to before `until`, years ahead, both edges, of moments: by rule. */
  sums(moments: Float64Array, from: number, until: number): Float64Array {
    const { middle } = this;
    const c1 = -this.#rate;
    const c2 = (-this.#rate / 2) * c1;
    const c3 = (-this.#rate / 3) * c2;
    const c4 = (-this.#rate / 4) * c3;
    const c5 = (-this.#rate / 5) * c4;
    const spans = this.#spans.count;
    const first = this.#spans.at(from);
    const end = this.#spans.at(until);
    const sums = new Float64Array(moments.length / (spans * MOMENTS));
    for (let rule = 0; rule < sums.length; rule++) {
      let sum = 0;
      for (let s = first, i = (rule * spans + first) * MOMENTS; s < end; s++, i += MOMENTS) {
        if (moments[i] === 0) continue;
        const low = moments[i]! + c1 * moments[i + 1]! + c2 * moments[i + 2]!;
        sum += middle[s]! * (low + c3 * moments[i + 3]! + c4 * moments[i + 4]! + c5 * moments[i + 5]!);
      }
      sums[rule] = sum;
    }
    return sums;
  }
}

function allDecayed(rate: number, times: Float64Array, count: number): Float64Array {
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) values[i] = decayed(rate, times[i]!);
  return values;
}

/**
 * When all nodes are topped off and repaired under every switch rule, added up with their weights: what means under any
 * price, rate, seep and horizon follow from, as no rate or price changes when a node runs low.
 *
 * Top-offs are kept as moments Σ w·dᵏ, k = 0 … 5, about the middle of their span, from which Σ w·e^{−rate·t} follows by
 * the series of the exponential. A span is a month at most, so |d| ≤ 1/24 year, and what the series leaves out is less
 * than (|rate|·|d|)⁶/720 of the sum: 1e-13 at a rate of 0.5 a year, 5e-11 at 1.35, the highest that may be asked.
 */
export class Schedules {
  /** Switch rules, years, ascending. */
  readonly rules: readonly number[];
  /** The spans that top-offs are counted in. */
  readonly spans: Spans;
  /** Moments of top-offs, by longest rule that has them and span, from (rule·spans + s)·`MOMENTS` on; weights w. */
  readonly visits: Float64Array;
  /** The same with weights w·grams. */
  readonly grams: Float64Array;
  /** The same with weights w·cans, where cans are used up; else null. */
  readonly cans: Float64Array | null;
  /** Number of nodes that are topped off. */
  nodes = 0;
  /** When that begins, years ahead. */
  readonly first_t: Float64Array;
  /** Index of the longest rule that it begins under. */
  readonly first_rule: Int32Array;
  /** Weight of the node. */
  readonly first_weight: Float64Array;
  /** Σ w·k by clock of the month table, grams a year. */
  readonly leak: Float64Array;
  /** Number of repairs. */
  repairs = 0;
  /** When, years ahead. */
  repair_t = new Float64Array(512);
  /** Index of the shortest rule that repairs then, and after the longest. */
  repair_from = new Int32Array(512);
  repair_to = new Int32Array(512);
  /** Weight of the node. */
  repair_weight = new Float64Array(512);
  /** Its leak rate times its weight, grams a year, and its clock. */
  repair_leak = new Float64Array(512);
  repair_clock = new Int32Array(512);
  /** 1 where a top-off of the node came before. */
  repair_has_tools = new Uint8Array(512);
  readonly #cansOf: ((grams: number) => number) | null;
  readonly #decays = new Map<number, Decay>();

  /**
   * Without nodes so far, of which there will be `nodes` at most. `cansOf`, how many cans some grams take, where opened
   * ones are used up. `passing`: they are done with before the next such ones are made.
   */
  constructor(
    rules: readonly number[],
    spans: Spans,
    nodes: number,
    clocks: number,
    cansOf: ((grams: number) => number) | null,
    passing = false,
  ) {
    const count = rules.length * spans.count * MOMENTS;
    const values = cansOf === null ? 2 * count : 3 * count;
    const room = passing ? passingRoom(values) : new Float64Array(values);
    this.rules = rules;
    this.spans = spans;
    this.visits = room.subarray(0, count);
    this.grams = room.subarray(count, 2 * count);
    this.first_t = new Float64Array(nodes);
    this.first_rule = new Int32Array(nodes);
    this.first_weight = new Float64Array(nodes);
    this.cans = cansOf === null ? null : room.subarray(2 * count);
    this.#cansOf = cansOf;
    this.leak = new Float64Array(clocks);
  }

  /** Adds the schedule of a node of this weight. */
  add(schedule: Schedule, { k, clock }: Pick<NodeState, "k" | "clock">, weight: number): void {
    this.#decays.clear();
    this.leak[clock]! += weight * k;
    this.#addTopOffs(schedule, weight);
    if (schedule.count > 0) {
      this.first_t[this.nodes] = schedule.t[0]!;
      this.first_rule[this.nodes] = schedule.rule[0]!;
      this.first_weight[this.nodes++] = weight;
    }
    this.#makeRoom(this.repairs + schedule.repairs);
    for (let i = 0; i < schedule.repairs; i++) {
      const to = this.repairs++;
      this.repair_t[to] = schedule.repair_t[i]!;
      this.repair_from[to] = schedule.repair_from[i]!;
      this.repair_to[to] = schedule.repair_to[i]!;
      this.repair_weight[to] = weight;
      this.repair_leak[to] = weight * k;
      this.repair_clock[to] = clock;
      this.repair_has_tools[to] = schedule.count > 0 && schedule.t[0]! < schedule.repair_t[i]! ? 1 : 0;
    }
  }

  #addTopOffs(schedule: Schedule, weight: number): void {
    const { visits, grams, cans, spans } = this;
    for (let i = 0; i < schedule.count; i++) {
      const s = schedule.span[i]!;
      const at = (schedule.rule[i]! * spans.count + s) * MOMENTS;
      const d = schedule.t[i]! - spans.middle[s]!;
      const times = schedule.times[i]!;
      const amount = schedule.grams[i]!;
      // Moments about the middle of the span from those about the mean time, of which the odd ones are 0.
      const squares = schedule.squares[i]!;
      const fourths = schedule.fourths[i]!;
      const d2 = d * d;
      const m0 = weight * times;
      const m1 = m0 * d;
      const m2 = m0 * d2 + weight * squares;
      const m3 = d * (m0 * d2 + 3 * weight * squares);
      const m4 = m0 * d2 * d2 + weight * (6 * d2 * squares + fourths);
      const m5 = d * (m0 * d2 * d2 + weight * (10 * d2 * squares + 5 * fourths));
      addMoments(visits, at, 1, m0, m1, m2, m3, m4, m5);
      addMoments(grams, at, amount, m0, m1, m2, m3, m4, m5);
      if (cans !== null && this.#cansOf !== null) {
        addMoments(cans, at, this.#cansOf(amount), m0, m1, m2, m3, m4, m5);
      }
    }
  }

  #makeRoom(repairs: number): void {
    if (repairs <= this.repair_t.length) return;
    this.repair_t = longer(this.repair_t);
    this.repair_from = longer(this.repair_from);
    this.repair_to = longer(this.repair_to);
    this.repair_weight = longer(this.repair_weight);
    this.repair_leak = longer(this.repair_leak);
    this.repair_clock = longer(this.repair_clock);
    this.repair_has_tools = longer(this.repair_has_tools);
  }

  /** What top-offs and repairs count for at a rate, per year; worked out once. */
  decay(rate: number): Decay {
    let known = this.#decays.get(rate);
    if (known === undefined) {
      known = new Decay(this, rate);
      this.#decays.set(rate, known);
    }
    return known;
  }
}

// The largest piece of memory that a run takes.
const passingRoom = workRoom();

/** Adds `factor` times these moments to those from index `at` on. */
function addMoments(
  into: Float64Array,
  at: number,
  factor: number,
  m0: number,
  m1: number,
  m2: number,
  m3: number,
  m4: number,
  m5: number,
): void {
  into[at]! += factor * m0;
  into[at + 1]! += factor * m1;
  into[at + 2]! += factor * m2;
  into[at + 3]! += factor * m3;
  into[at + 4]! += factor * m4;
  into[at + 5]! += factor * m5;
}

/** A copy with twice the room. */
function longer<T extends Float64Array | Int32Array | Uint8Array>(values: T): T {
  const room = new (values.constructor as new (length: number) => T)(2 * values.length);
  room.set(values);
  return room;
}

/** How `schedulesOf` goes about it. */
interface Following {
  /** Switch rules, years, ascending. */
  rules: readonly number[];
  /** Horizons that will be asked for, years ahead; schedules go to the last. */
  ends: readonly number[];
  /** How many cans some grams take, where opened ones are used up; else null. */
  cansOf: ((grams: number) => number) | null;
  /** The schedules are done with before the next such ones are made. */
  passing?: boolean;
  /** Called with the schedule of each node, which holds until the next. */
  each?: (n: number, schedule: Schedule, node: NodeState) => void;
}

/**
 * The schedules of every node of a start. A spell shorter than the shortest rule ends the path of every rule in a
 * repair, so a node's events end there.
 */
export function schedulesOf(
  start: Start,
  table: MonthTable,
  nameplate_g: number,
  { rules, ends, cansOf, passing, each }: Following,
): Schedules {
  const { nodes } = start;
  const spans = new Spans(ends);
  const schedules = new Schedules(rules, spans, nodes.count, table.clock.length, cansOf, passing);
  const node: NodeState = { k: 0, mean_m: 0, mean_b: 0, clock: 0 };
  for (let n = 0; n < nodes.count; n++) {
    node.k = nodes.k[n]!;
    node.mean_m = nodes.mean_m[n]!;
    node.mean_b = nodes.mean_b[n]!;
    node.clock = nodes.growth_index[n]!;
    eventsOf(events_of_node, node, start, table, spans, nameplate_g, rules[0]);
    schedule_of_node.follow(events_of_node, rules, spans);
    schedules.add(schedule_of_node, node, nodes.weight[n]!);
    each?.(n, schedule_of_node, node);
  }
  return schedules;
}

// Of one node at a time.
const events_of_node = emptyEvents();
const schedule_of_node = new Schedule();
