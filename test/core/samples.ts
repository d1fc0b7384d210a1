import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type {
  AssessAnswer,
  AssessRequest,
  LogEntry,
  OptionAnswer,
  OptionId,
} from "../../src/core/question/contract.ts";

export const AS_OF = "2026-05-01";

/** Monthly means of a place with cold winters and hot summers, °C; invented. */
export const SEASONS = [2, 4, 9, 14, 19, 24, 27, 26, 22, 15, 9, 4] as const;

/** An invented car of 650 g R-134a, with a log, and anything else changed. */
export function carRequest(log: LogEntry[] = [], changes: Partial<AssessRequest> = {}): AssessRequest {
  return { as_of: AS_OF, vehicle: { refrigerant: "R-134a", nameplate_g: 650 }, log, ...changes };
}

/** The date `days` before the assessment date. */
export function daysAgo(days: number, as_of = AS_OF): string {
  return isoFromDay(dayNumber(as_of) - days);
}

/**
 * Weak and topped off from cans every `days` days, `times` times, and weak again today. What went into the system is
 * what brings it from weak cooling at 60 % back to full: 40 % of nameplate, and the cans lose a tenth of theirs.
 */
export function toppedOffEvery(days: number, times: number, nameplate_g = 650): LogEntry[] {
  const fills = Array.from(
    { length: times },
    (_, i): LogEntry => ({
      date: daysAgo(days * (times - i)),
      cooling: "weak",
      added_g: (0.4 * nameplate_g) / 0.9,
      added_by: "cans",
      finish: "gauges",
    }),
  );
  return [...fills, { date: AS_OF, cooling: "weak" }];
}

export function optionOf(answer: AssessAnswer, id: OptionId): OptionAnswer {
  const option = answer.options.find((one) => one.id === id);
  if (option === undefined) throw new Error(`The answer has no option ${id}`);
  return option;
}
