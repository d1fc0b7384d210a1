import { requestBounds } from "../../../data/parameters.ts";
import { yearsBefore } from "../quantities/dates.ts";

/** The first date of the charge log that the model takes in a question of the day `as_of`. */
export function firstLogDate(as_of: string): string {
  const { first_date, years_before } = requestBounds.log;
  const earliest = yearsBefore(as_of, years_before);
  if (earliest < first_date) return first_date;
  return earliest;
}
