import { availableParallelism } from "node:os";
import { Tinypool } from "tinypool";
import { Problem } from "./core/problem.ts";
import type { Model } from "./web/edge/model.ts";

/** One core is left for requests. */
const MOST_THREADS = Math.max(1, Math.min(4, availableParallelism() - 1));
/** Computations that may wait for a thread: a few seconds of work, so that nobody waits longer for an answer. */
const MOST_WAITING = 100;
/**
 * The longest log with every option takes a second on a slow machine; a computation that takes longer than this is
 * stuck.
 */
const LONGEST_MS = 20_000;
const MIB_OF_A_THREAD = 256;

/**
 * The model in worker threads, so that a computation blocks no other request. Each computation is limited in time and
 * memory; a thread that exceeds a limit is replaced. `worker` is the built `model-worker.js`.
 */
export function modelPool(
  worker: string,
  { most_waiting = MOST_WAITING, longest_ms = LONGEST_MS } = {},
): Model & {
  close(): Promise<void>;
} {
  const pool = new Tinypool({
    filename: worker,
    minThreads: 1,
    maxThreads: MOST_THREADS,
    maxQueue: most_waiting,
    idleTimeout: 60_000,
    resourceLimits: { maxOldGenerationSizeMb: MIB_OF_A_THREAD },
  });
  async function run<Result>(name: keyof Model, asked: readonly unknown[]): Promise<Result> {
    if (pool.queueSize >= most_waiting)
      throw new Problem("unavailable", "Many people are asking just now. Wait a few seconds, then try again.");
    try {
      return await pool.run(asked, { name, signal: AbortSignal.timeout(longest_ms) });
    } catch (error) {
      if (!(error instanceof Error) || error.name !== "AbortError") throw error;
      throw new Problem("unavailable", "This took too long to work out. Wait a few seconds, then try again.");
    }
  }
  return {
    assess: (...asked) => run("assess", asked),
    pageAnswer: (...asked) => run("pageAnswer", asked),
    mixedAnswer: (...asked) => run("mixedAnswer", asked),
    close: () => pool.destroy(),
  };
}
