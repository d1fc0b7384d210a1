/**
 * The heaviest stages of the model beside the same in plain C (`c/*.c`, compiled with `cc -O2`), on varied questions:
 * milliseconds here as a ratio to milliseconds there, each the least of some rounds. Both must come to the same. C
 * takes every node through every step; the model leaves out those that will count for nothing, and finds out which.
 *
 *     npm run bench -- plain-c
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { NODES } from "../../src/core/leak/leak-grid.ts";
import { type Posterior, posteriorOf } from "../../src/core/leak/posterior.ts";
import { type Question, questionOf } from "../../src/core/question/question.ts";
import { variedRequests } from "../../src/invented-requests.ts";
import { filterSteps } from "./filter-steps.ts";
import { lineOf, type Measurement } from "./measurement.ts";

/** How many times as long as plain C it may take. */
const MOST_RATIO = 1.5;
/** Largest share by which the two may differ. */
const SAME = 1e-9;
/** Of the largest weight: nodes under this count for nothing. */
const WEIGHTLESS = 1e-14;
const MOST_BYTES = 1e9;

/** Runs a program of `c/` on numbers; null where there is no C compiler. */
function plainC(program: string, input: readonly number[]): Float64Array | null {
  const folder = mkdtempSync(join(tmpdir(), "plain-c-"));
  try {
    const built = join(folder, program);
    const source = join(import.meta.dirname, "c", `${program}.c`);
    const compiler = spawnSync("cc", ["-O2", "-o", built, source, "-lm"], { encoding: "utf8" });
    if (compiler.error !== undefined) return null;
    if (compiler.status !== 0) throw new Error(compiler.stderr);
    const bytes = new Uint8Array(Float64Array.from(input).buffer);
    const { status, stdout } = spawnSync(built, { input: bytes, maxBuffer: MOST_BYTES });
    if (status !== 0) throw new Error(`${program}.c ended with ${status}`);
    return new Float64Array(new Uint8Array(stdout).buffer);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Milliseconds of a work, mean over what it is done for: of each, the least of some rounds. */
function leastMs<T>(each: readonly T[], rounds: number, work: (one: T) => unknown): number {
  const least = each.map(() => Infinity);
  for (let round = 0; round < rounds; round++) {
    for (const [i, one] of each.entries()) {
      const start = performance.now();
      work(one);
      least[i] = Math.min(least[i]!, performance.now() - start);
    }
  }
  return least.reduce((sum, ms) => sum + ms, 0) / each.length;
}

/** Largest difference between a posterior and what C made of it, relative to the largest weight and nameplate. */
function apart(question: Question, posterior: Posterior, weight: Float64Array, mean_m: Float64Array): number {
  const largest = Math.max(...posterior.weight);
  let most = 0;
  for (let n = 0; n < NODES; n++) {
    most = Math.max(most, Math.abs(posterior.weight[n]! - weight[n]!) / largest);
    if (weight[n]! < WEIGHTLESS * largest) continue;
    most = Math.max(most, Math.abs(posterior.mean_m[n]! - mean_m[n]!) / question.nameplate_g);
  }
  return most;
}

/** `rounds` of every question in each language; throws where they do not agree. */
export function plainCBench({ rounds = 30, questions = 60 } = {}): Measurement[] {
  const asked = variedRequests(questions).map(questionOf);
  const steps = asked.map(filterSteps);
  const name = `posterior of ${questions} varied`;
  const output = plainC("filter", [rounds, questions, ...steps.flatMap((one) => [one.length, ...one])]);
  if (output === null) return [{ name: `${name}: no C compiler here`, value: 0, unit: "ms", most: null, digest: null }];
  const posteriors = asked.map((question) => posteriorOf(question, { record: false }));
  const differ = Math.max(
    ...posteriors.map((posterior, q) => {
      const at = 1 + 2 * NODES * q;
      const weight = output.subarray(at, at + NODES);
      return apart(asked[q]!, posterior, weight, output.subarray(at + NODES, at + 2 * NODES));
    }),
  );
  if (!(differ <= SAME)) throw new Error(`${name}: here and in plain C it differs by ${differ}`);
  const each = asked.map((question, q) => ({ question, clocks: posteriors[q]!.clocks }));
  const here = leastMs(each, rounds, ({ question, clocks }) => posteriorOf(question, { record: false, clocks }));
  const there = output[0]!;
  const beside = `${(here / there).toPrecision(3)} × plain C; results within ${differ.toPrecision(1)}`;
  return [
    { name: `${name}, in plain C`, value: there, unit: "ms", most: null, digest: null },
    { name, value: here, unit: "ms", most: Number((MOST_RATIO * there).toPrecision(3)), digest: null, beside },
  ];
}

if (import.meta.main) for (const measurement of plainCBench()) console.log(lineOf(measurement));
