/**
 * Sixty varied questions, each the whole answer with and without its sensitivity; and one vehicle with ten entries in
 * its log: the posterior, and the answer.
 *
 *     npm run bench -- assess
 *
 * Medians, in milliseconds a question and as a ratio to a million exponentials measured in the same rounds, which says
 * more than milliseconds on another machine. Budgets are for one core of a small machine with nothing else to do.
 */
import { assess } from "../../src/core/assess.ts";
import { posteriorOf } from "../../src/core/leak/posterior.ts";
import type { AssessRequest } from "../../src/core/question/contract.ts";
import { questionOf } from "../../src/core/question/question.ts";
import { variedRequests } from "../../src/invented-requests.ts";
import { digestOf, lineOf, type Measurement, medianOf } from "./measurement.ts";

/** An invented vehicle: filled by weight, then looked at and topped off for seven years. */
const REQUEST: AssessRequest = {
  as_of: "2026-05-01",
  vehicle: {
    refrigerant: "R-134a",
    nameplate_g: 650,
    monthly_mean_c: [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4],
  },
  log: [
    { date: "2019-04-12", finish: "weighed" },
    { date: "2020-06-20", cooling: "ok" },
    { date: "2021-07-03", cooling: "weak", added_g: 227, added_by: "cans", finish: "low-side" },
    { date: "2022-05-28", cooling: "ok" },
    { date: "2022-09-10", cooling: "weak", added_g: 340, added_by: "cans" },
    { date: "2023-08-05", cooling: "weak", added_g: 280, added_by: "cans", finish: "gauges" },
    { date: "2024-06-15", cooling: "short-cycling", recovered_g: 290, finish: "weighed" },
    { date: "2025-05-24", cooling: "ok", added_g: 0, finish: "gauges" },
    { date: "2025-08-30", cooling: "weak", added_g: 250, added_by: "scale", finish: "gauges" },
    { date: "2026-05-01", cooling: "weak" },
  ],
  findings: [{ date: "2025-09-06", test: "visual", location: "anywhere", result: "clean" }],
};

const EXPONENTIALS = 1_000_000;
const BASELINE = "a million exponentials";

function exponentials(): number {
  let sum = 0;
  for (let i = 0; i < EXPONENTIALS; i++) sum += Math.exp(-i / EXPONENTIALS);
  return sum;
}

function milliseconds(work: () => unknown, times: number): number {
  const start = performance.now();
  for (let i = 0; i < times; i++) work();
  return (performance.now() - start) / times;
}

/** `rounds` of everything in turn, after a tenth as many to warm up; each round does each work `times` over. */
export function assessBench({ rounds = 30, times = 5, questions = 60 } = {}): Measurement[] {
  const question = questionOf(REQUEST);
  const varied = variedRequests(questions);
  const answers = (sensitivity: boolean) => varied.map((request) => assess(request, { sensitivity }));
  const works = [
    { name: `${varied.length} varied, with sensitivity`, most: 9, each: varied.length, work: () => answers(true) },
    {
      name: `${varied.length} varied, without sensitivity`,
      most: 4.5,
      each: varied.length,
      work: () => answers(false),
    },
    { name: "ten entries: posterior", most: 0.9, each: 1, work: () => posteriorOf(question) },
    { name: "ten entries: without sensitivity", most: 6, each: 1, work: () => assess(REQUEST, { sensitivity: false }) },
    { name: "ten entries: with sensitivity", most: 20, each: 1, work: () => assess(REQUEST) },
  ];
  const taken = works.map(() => [] as number[]);
  const baselines: number[] = [];
  const warm_up = Math.ceil(rounds / 10);
  for (let round = -warm_up; round < rounds; round++) {
    const baseline = milliseconds(exponentials, 1);
    const measured = works.map(({ work, each }) => milliseconds(work, each > 1 ? 1 : times) / each);
    if (round < 0) continue;
    baselines.push(baseline);
    for (const [w, ms] of measured.entries()) taken[w]!.push(ms);
  }
  const baseline = medianOf(baselines);
  return [
    { name: BASELINE, value: baseline, unit: "ms", most: null, digest: digestOf(exponentials()) },
    ...works.map(({ name, most, work }, w): Measurement => {
      const value = medianOf(taken[w]!);
      const beside = `${(value / baseline).toPrecision(3)} × ${BASELINE}`;
      return { name, value, unit: "ms", most, digest: digestOf(resultOf(work())), beside };
    }),
  ];
}

/** What of a result is its answer: of a posterior, not its clocks. */
function resultOf(result: unknown): unknown {
  if (typeof result !== "object" || result === null || !("weight" in result)) return result;
  const { weight, mean_m, mean_b, var_m } = result as ReturnType<typeof posteriorOf>;
  return [weight, mean_m, mean_b, var_m].map((values) => Array.from(values));
}

if (import.meta.main) for (const measurement of assessBench()) console.log(lineOf(measurement));
