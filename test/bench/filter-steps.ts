import { fills, LEAK_NOISE, looks, prior as priorOf, recovery } from "../../data/model-constants.ts";
import { ChargeFilter } from "../../src/core/leak/charge-filter.ts";
import type { Fill } from "../../src/core/leak/charge-log.ts";
import type { Clocks } from "../../src/core/leak/clocks.ts";
import { gridWeights, jointWeights, LN_X, X } from "../../src/core/leak/leak-grid.ts";
import { posteriorOf } from "../../src/core/leak/posterior.ts";
import { type Cooling, LOCATION_IDS, type LocationId } from "../../src/core/question/contract.ts";
import type { Question } from "../../src/core/question/question.ts";

/**
 * What the filter of a posterior does, step by step, as numbers that `c/filter.c` understands: each step is its code
 * there, and what it needs. Grams, g² and years.
 */

const STEP = { START: 1, MOVE: 2, RECTIFY: 3, RECOVERED: 4, LEVEL: 5, LOOK: 6, SET: 7, ADD: 8, CAP: 9, REPAIR: 10 };

type Amount = Extract<Fill, { kind: "amount" }>;

/** The numbers of a step, from what the filter's method was given; none for a step without effect. */
type Recorder = (question: Question, clocks: Clocks, ...asked: never[]) => readonly number[];

const RECORDERS: Readonly<Record<string, Recorder>> = {
  move: (_, clocks, from: number, to: number) => {
    if (from === to) return [];
    const [before, after] = [clocks.at(from), clocks.at(to)];
    const spans = Array.from(after.growth, (value, j) => value - before.growth[j]!);
    const noise = Array.from(
      after.growth_twice,
      (value, j) => LEAK_NOISE * LEAK_NOISE * (value - before.growth_twice[j]!),
    );
    return [STEP.MOVE, ...spans, ...noise];
  },
  rectify: () => [STEP.RECTIFY],
  readRecovered: (_, __, reading_g: number, sd_g: number) => [STEP.RECOVERED, recovery.share, reading_g, sd_g],
  readLevel: (_, __, { into_g, sd_g, reading }: Amount) =>
    reading === null ? [] : [STEP.LEVEL, into_g, sd_g, reading.mean_g, reading.sd_g],
  look: (
    { nameplate_g },
    _,
    kind: Cooling | "fill-unknown",
    with_error = false,
    mistaken: number = looks[kind].mistaken,
  ) => {
    const { line, softness } = looks[kind];
    const [own, fixed] = line === null ? [1, 0] : [0, line * nameplate_g];
    return [STEP.LOOK, own, fixed, (softness * nameplate_g) ** 2, kind === "ok" ? -1 : 1, mistaken, Number(with_error)];
  },
  setCharge: (_, __, mean_g: number, variance: number) => [STEP.SET, mean_g, variance],
  add: ({ nameplate_g }, __, { into_g, sd_g, reading }: Amount) => [
    ...[STEP.ADD, into_g, sd_g, Number(reading !== null)],
    ...[STEP.CAP, fills.most_after_amount * nameplate_g],
  ],
  repair: ({ prices, assumptions }, _, location: LocationId) => {
    const sound = gridWeights(LN_X, Math.log(assumptions.seep_fraction), priorOf.after_repair_ln_x_sd);
    return [STEP.REPAIR, prices.holds[LOCATION_IDS.indexOf(location)]!, ...jointWeights(sound)];
  },
};

/** The steps of the posterior of a question. Dates of its log must be exact. */
export function filterSteps(question: Question): number[] {
  const { nameplate_g, assumptions, leak_prior } = question;
  const prior = jointWeights(gridWeights(LN_X, leak_prior.ln_x_mean, leak_prior.ln_x_sd));
  const steps = [
    STEP.START,
    nameplate_g,
    priorOf.charge_mean * nameplate_g,
    (priorOf.charge_sd * nameplate_g) ** 2,
    assumptions.low_fraction * nameplate_g,
    (assumptions.low_sd * nameplate_g) ** 2,
    ...X.map((x) => x * nameplate_g),
    ...prior,
  ];
  const { clocks } = posteriorOf(question, { record: false });
  const methods = Object.keys(RECORDERS).map((name) => [name, Reflect.get(ChargeFilter.prototype, name)] as const);
  // A step that is part of another is not one of its own.
  let within = false;
  try {
    for (const [name, method] of methods) {
      const recorder = RECORDERS[name]!;
      Reflect.set(ChargeFilter.prototype, name, function recorded(this: ChargeFilter, ...asked: never[]): unknown {
        if (within) return Reflect.apply(method, this, asked);
        steps.push(...recorder(question, clocks, ...asked));
        within = name === "repair";
        const result: unknown = Reflect.apply(method, this, asked);
        within = false;
        return result;
      });
    }
    posteriorOf(question, { record: false, clocks, within: [] });
  } finally {
    for (const [name, method] of methods) Reflect.set(ChargeFilter.prototype, name, method);
  }
  return steps;
}
