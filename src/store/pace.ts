/** How long other requests may be kept waiting, ms. */
const LONGEST_MS = 40;

/**
 * Pauses in long work, so that other requests are served: `if (pace.due) await pace.rest()` in every round of a loop.
 * It is never due on a runtime whose clock only moves with I/O.
 */
export class Pace {
  #since = performance.now();

  get due(): boolean {
    return performance.now() - this.#since >= LONGEST_MS;
  }

  async rest(): Promise<void> {
    await new Promise((resume) => setTimeout(resume, 0));
    this.#since = performance.now();
  }
}
