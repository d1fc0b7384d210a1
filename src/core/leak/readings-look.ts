import { dayNumber } from "../quantities/dates.ts";
import type { AssessRequest, ReadingsSay } from "../question/contract.ts";
import { questionOf } from "../question/question.ts";
import { standingLookOf, visitsOf } from "./charge-log.ts";

/**
 * The request with what gauge and vent readings of `date`, no later than `as_of`, said. Readings that say low count as
 * a low look: where none stands, the log gets one on that date, so that the answer starts from what was measured.
 */
export function withReadings(request: AssessRequest, says: ReadingsSay, date: string): AssessRequest {
  const read: AssessRequest = { ...request, plan: { ...request.plan, readings: says } };
  if (says !== "low") return read;
  const { log, as_of_day, nameplate_g, assumptions } = questionOf(request);
  if (standingLookOf(visitsOf(log, as_of_day, nameplate_g, assumptions.heel)) !== null) return read;
  const day = dayNumber(date);
  const later = log.findIndex((entry) => dayNumber(entry.date) > day);
  const looked = log.toSpliced(later < 0 ? log.length : later, 0, { date, cooling: "weak" });
  return { ...read, log: looked };
}
