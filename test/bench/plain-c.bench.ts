/**
 * The heaviest stages of the model beside the same in plain C (`c/*.c`, compiled with `cc -O2`), on varied questions:
 * milliseconds here as a ratio to milliseconds there, each the least of some rounds. Both must come to the same. In the
 * filter C takes every node through every step; the model leaves out those that will count for nothing, and finds out
 * which. Of the years ahead C makes the tallies of every node and their means, event by event. The model's time has in
 * it the schedules too, from which it answers other assumptions without another walk; C makes none.
 *
 *     npm run bench -- plain-c
 */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { NODES } from "../../src/core/leak/leak-grid.ts";
import { type Posterior, posteriorOf } from "../../src/core/leak/posterior.ts";
import { type Futures, futuresOf } from "../../src/core/options/futures.ts";
import { TALLY_WIDTH } from "../../src/core/options/tally.ts";
import { type Question, questionOf } from "../../src/core/question/question.ts";
import { variedRequests } from "../../src/invented-requests.ts";
import { filterSteps } from "./filter-steps.ts";
import { lineOf, type Measurement } from "./measurement.ts";
import { walkable, walkInput } from "./walk-input.ts";

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

/** Largest difference between the tallies of a walk and what C made of them, relative to the largest of a column. */
function talliesApart(futures: Futures, output: Float64Array, from: number): { differ: number; end: number } {
  let at = from;
  let differ = 0;
  const { top_off, top_off_mean, repair_now, repair_after_dye, repair_after_dye_mean } = futures;
  for (const tallies of [top_off, top_off_mean, repair_now, repair_after_dye, repair_after_dye_mean]) {
    const largest = new Float64Array(TALLY_WIDTH);
    for (const [i, value] of tallies.entries()) {
      largest[i % TALLY_WIDTH] = Math.max(largest[i % TALLY_WIDTH]!, Math.abs(value));
    }
    for (const [i, value] of tallies.entries()) {
      const off = Math.abs(value - output[at + i]!);
      if (off !== 0) differ = Math.max(differ, off / largest[i % TALLY_WIDTH]!);
    }
    at += tallies.length;
  }
  return { differ, end: at };
}

/** A stage in both languages. */
interface Stage {
  name: string;
  /** Milliseconds a question. */
  here: number;
  there: number;
  /** Share by which the two differ. */
  differ: number;
}

/** The posteriors of the questions; null without a C compiler. */
function filterStage(asked: readonly Question[], posteriors: readonly Posterior[], rounds: number): Stage | null {
  const steps = asked.map(filterSteps);
  const output = plainC("filter", [rounds, asked.length, ...steps.flatMap((one) => [one.length, ...one])]);
  if (output === null) return null;
  const differ = posteriors.map((posterior, q) => {
    const at = 1 + 2 * NODES * q;
    const weight = output.subarray(at, at + NODES);
    return apart(asked[q]!, posterior, weight, output.subarray(at + NODES, at + 2 * NODES));
  });
  const each = asked.map((question, q) => ({ question, clocks: posteriors[q]!.clocks }));
  const here = leastMs(each, rounds, ({ question, clocks }) => posteriorOf(question, { record: false, clocks }));
  return { name: "posterior", here, there: output[0]!, differ: Math.max(...differ) };
}

/** The years ahead of the questions, from their posteriors on; null without a C compiler. */
function walkStage(asked: readonly Question[], posteriors: readonly Posterior[], rounds: number): Stage | null {
  const each = asked.map((question, q) => walkable(question, posteriors[q]!));
  const inputs = each.map(walkInput);
  const output = plainC("walk", [rounds, asked.length, ...inputs.flatMap((one) => [one.length, ...one])]);
  if (output === null) return null;
  let differ = 0;
  let at = 1;
  for (const { question, start, table } of each) {
    const compared = talliesApart(futuresOf(question, start, table), output, at);
    differ = Math.max(differ, compared.differ);
    at = compared.end;
  }
  if (at !== output.length) throw new Error(`walk.c wrote ${output.length} numbers in place of ${at}`);
  const here = leastMs(each, rounds, ({ question, start, table }) => futuresOf(question, start, table));
  return { name: "years ahead", here, there: output[0]!, differ };
}

/** Lines of a stage; throws where the two do not agree. */
function linesOf({ name, here, there, differ }: Stage, questions: number): Measurement[] {
  const of = `${name} of ${questions} varied`;
  if (!(differ <= SAME)) throw new Error(`${of}: here and in plain C it differs by ${differ}`);
  const beside = `${(here / there).toPrecision(3)} × plain C; results within ${differ.toPrecision(1)}`;
  return [
    { name: `${of}, in plain C`, value: there, unit: "ms", most: null, digest: null },
    { name: of, value: here, unit: "ms", most: Number((MOST_RATIO * there).toPrecision(3)), digest: null, beside },
  ];
}

/** `rounds` of every question in each language, stage by stage and both; throws where they do not agree. */
export function plainCBench({ rounds = 30, questions = 60 } = {}): Measurement[] {
  const asked = variedRequests(questions).map(questionOf);
  const posteriors = asked.map((question) => posteriorOf(question, { record: false }));
  const filter = filterStage(asked, posteriors, rounds);
  const walk = walkStage(asked, posteriors, rounds);
  if (filter === null || walk === null) {
    return [{ name: "plain C: no compiler here", value: 0, unit: "ms", most: null, digest: null }];
  }
  const both: Stage = {
    name: "both",
    here: filter.here + walk.here,
    there: filter.there + walk.there,
    differ: Math.max(filter.differ, walk.differ),
  };
  return [filter, walk, both].flatMap((stage) => linesOf(stage, questions));
}

if (import.meta.main) for (const measurement of plainCBench()) console.log(lineOf(measurement));
