import { availableParallelism } from "node:os";
import { Tinypool } from "tinypool";
import { Problem } from "./core/problem.ts";
import type { Model } from "./web/edge/model.ts";

/** One core is left for requests. */
const MOST_THREADS = Math.max(1, Math.min(4, availableParallelism() - 1));
/** For work that nobody sits waiting for: its threads let all others go first, so they may be as many as the cores. */
const MOST_PATIENT_THREADS = Math.min(4, availableParallelism());
/** Computations that may wait for a thread: a few seconds of work, so that nobody waits longer for an answer. */
const MOST_WAITING = 100;
/**
 * The longest log with every option takes a second on a slow machine; a computation that takes longer than this is
 * stuck.
 */
const LONGEST_MS = 20_000;
/** The same for work that lets others go first, and waits behind its like. */
const LONGEST_PATIENT_MS = 10 * LONGEST_MS;
const MIB_OF_A_THREAD = 256;
/** Of that, for what is new. Left alone a thread lets 100 MiB of what it has done with lie about. */
const MIB_OF_WHAT_IS_NEW = 16;

/**
 * The model in worker threads, so that a computation blocks no other request: questions in some, what fleets have
 * computed in others. Each computation is limited in time and memory; a thread that exceeds a limit is replaced.
 * `worker` is the built `model-worker.js`.
 */
export function modelPool(
  worker: string,
  { most_waiting = MOST_WAITING, longest_ms = LONGEST_MS, patient_threads = MOST_PATIENT_THREADS } = {},
): Model & {
  close(): Promise<void>;
} {
  const options = {
    filename: worker,
    idleTimeout: 60_000,
    resourceLimits: { maxOldGenerationSizeMb: MIB_OF_A_THREAD, maxYoungGenerationSizeMb: MIB_OF_WHAT_IS_NEW },
  };
  const pool = new Tinypool({ ...options, minThreads: 1, maxThreads: MOST_THREADS, maxQueue: most_waiting });
  const patient_pool = new Tinypool({ ...options, minThreads: 0, maxThreads: patient_threads });
  async function run<Result>(name: keyof Model, asked: readonly unknown[]): Promise<Result> {
    if (pool.queueSize >= most_waiting)
      throw new Problem("unavailable", "Many people are asking just now. Wait a few seconds, then try again.");
    return inTime(longest_ms, (signal) => pool.run(asked, { name, signal }));
  }
  function runPatiently<Result>(name: keyof Model, asked: readonly unknown[]): Promise<Result> {
    return inTime(LONGEST_PATIENT_MS, (signal) => patient_pool.run(asked, { name, signal }));
  }
  return {
    assess: (...asked) => run("assess", asked),
    pageAnswer: (...asked) => run("pageAnswer", asked),
    mixedAnswer: (...asked) => run("mixedAnswer", asked),
    side_by_side: patient_threads,
    leakLikelihoods: (...asked) => runPatiently("leakLikelihoods", asked),
    groupFits: (...asked) => runPatiently("groupFits", asked),
    fleetAnswers: (...asked) => runPatiently("fleetAnswers", asked),
    replayed: (...asked) => run("replayed", asked),
    replays: (...asked) => runPatiently("replays", asked),
    close: async () => {
      await Promise.all([pool.destroy(), patient_pool.destroy()]);
    },
  };
}

async function inTime<Result>(ms: number, work: (signal: AbortSignal) => Promise<Result>): Promise<Result> {
  try {
    return await work(AbortSignal.timeout(ms));
  } catch (error) {
    if (!(error instanceof Error) || error.name !== "AbortError") throw error;
    throw new Problem("unavailable", "This took too long to work out. Wait a few seconds, then try again.");
  }
}
