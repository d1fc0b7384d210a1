/** How long other requests may be kept waiting, ms. */
const LONGEST_MS = 40;

/**
 * Rests in long work, so that other requests get their turn: `if (pace.due) await pace.rest()` in every round of a
 * loop. On a runtime whose clock stands still between requests to the outside it is never due.
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
