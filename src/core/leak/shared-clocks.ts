import { dayNumber } from "../quantities/dates.ts";
import type { Question } from "../question/question.ts";
import { CLOCK_YEARS_AHEAD, type Clocks, clocksOf } from "./clocks.ts";
import { DAYS_PER_YEAR } from "./leak-clock.ts";

/** Further back than most logs go. */
const YEARS_BACK = 30;
/** A fleet has few climates, refrigerants and days; beyond this many the oldest goes. */
const KEPT = 32;

/** Clocks for many questions: those of one refrigerant, climate and day have the same, so it is made once. */
export class SharedClocks {
  readonly #known = new Map<string, Clocks>();

  /** The clocks of a question, as `posteriorOf` takes them; null for a log that goes back too far to share any. */
  of(question: Pick<Question, "refrigerant" | "monthly_mean_c" | "as_of_day" | "log">): Clocks | null {
    const { refrigerant, monthly_mean_c, as_of_day, log } = question;
    if (log.some(({ date }) => dayNumber(date) < as_of_day - YEARS_BACK * DAYS_PER_YEAR)) return null;
    const key = `${refrigerant} ${as_of_day} ${monthly_mean_c?.join()}`;
    let clocks = this.#known.get(key);
    if (clocks === undefined) {
      clocks = clocksOf(question, -YEARS_BACK, CLOCK_YEARS_AHEAD);
      if (this.#known.size >= KEPT) this.#known.delete(this.#known.keys().next().value!);
      this.#known.set(key, clocks);
    }
    return clocks;
  }
}
