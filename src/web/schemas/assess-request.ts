import { locationParameters, requestBounds } from "../../../data/parameters.ts";
import type { Issue } from "../../core/problem.ts";
import { isIsoDate } from "../../core/quantities/dates.ts";
import { type AssessRequest, LOCATION_IDS } from "../../core/question/contract.ts";
import { firstLogDate } from "../../core/question/log-dates.ts";
import { assessSchema } from "./assess-schema.ts";
import { checked, MAX_ISSUES, rangeMessage } from "./sentences.ts";

export type ParsedRequest = { ok: true; request: AssessRequest } | { ok: false; issues: Issue[] };

/**
 * Checks a request to the model, whatever it is, and fills in `as_of` with `today` (`YYYY-MM-DD`) when it is absent.
 * Every problem is told at once, with the path of the field (`log.2.added_g`; "" for the whole) and what would be
 * right.
 */
export function parseAssessRequest(body: unknown, today: string): ParsedRequest {
  const shape = checked(assessSchema, body);
  const issues = [...(shape.ok ? [] : shape.issues), ...crossIssues(body, today)];
  if (!shape.ok || issues.length > 0) return { ok: false, issues: issues.slice(0, MAX_ISSUES) };
  return { ok: true, request: { ...shape.value, as_of: shape.value.as_of ?? today } };
}

/**
 * Checks that involve two fields. They read the raw body, so that they can report beside other problems, and skip
 * values of the wrong type, which the schema has already reported.
 */
function crossIssues(body: unknown, today: string): Issue[] {
  const request = fieldsOf(body);
  const as_of = request.as_of ?? today;
  const { nameplate_g } = fieldsOf(request.vehicle);
  const log = entriesOf(request.log);
  const findings = entriesOf(request.findings);
  return [
    ...(isDate(as_of) && as_of >= requestBounds.as_of.min && as_of <= requestBounds.as_of.max
      ? [
          ...dateIssues("log", log, as_of),
          ...dateIssues("findings", findings, as_of),
          ...spanIssues(fieldsOf(request.logged), as_of),
        ]
      : []),
    ...(isInRange(nameplate_g, requestBounds.nameplate_g) ? amountIssues(log, nameplate_g) : []),
    ...anywhereIssues(findings),
    ...shareIssues(fieldsOf(fieldsOf(request.prices).locations)),
  ];
}

type Fields = Readonly<Record<string, unknown>>;

function fieldsOf(value: unknown): Fields {
  return typeof value === "object" && value !== null ? (value as Fields) : {};
}

function entriesOf(value: unknown): Fields[] {
  return Array.isArray(value) ? value.map(fieldsOf) : [];
}

function isDate(value: unknown): value is string {
  return typeof value === "string" && isIsoDate(value);
}

function isInRange(value: unknown, { min, max }: { min: number; max: number }): value is number {
  return typeof value === "number" && value >= min && value <= max;
}

function dateIssues(path: string, entries: readonly Fields[], as_of: string): Issue[] {
  const first = firstLogDate(as_of);
  const message = `Give a date from ${first} to ${as_of}, the day of the question.`;
  return entries.flatMap(({ date }, i) =>
    isDate(date) && (date < first || date > as_of) ? [{ path: `${path}.${i}.date`, message }] : [],
  );
}

function spanIssues({ from, until }: Fields, as_of: string): Issue[] {
  const first = firstLogDate(as_of);
  const message = `Give a date from ${first} to ${as_of}, the day of the question.`;
  const outside = Object.entries({ from, until }).flatMap(([name, day]) =>
    isDate(day) && (day < first || day > as_of) ? [{ path: `logged.${name}`, message }] : [],
  );
  if (outside.length > 0 || !isDate(from) || !isDate(until) || from <= until) return outside;
  return [{ path: "logged.from", message: `Give a date no later than ${until}, the last day.` }];
}

function amountIssues(log: readonly Fields[], nameplate_g: number): Issue[] {
  const { amount_nameplates } = requestBounds.log;
  const max = amount_nameplates * nameplate_g;
  const message = rangeMessage({ min: 0, max, unit: "g; three times the nameplate charge" });
  const widest = amount_nameplates * requestBounds.nameplate_g.max;
  return log.flatMap((entry, i) =>
    (["recovered_g", "added_g"] as const).flatMap((field) => {
      const amount = entry[field];
      return isInRange(amount, { min: 0, max: widest }) && amount > max ? [{ path: `log.${i}.${field}`, message }] : [];
    }),
  );
}

function anywhereIssues(findings: readonly Fields[]): Issue[] {
  const message = '"anywhere" goes with "clean" only: say where the leak was seen.';
  return findings.flatMap(({ location, result }, i) =>
    location === "anywhere" && result === "leak" ? [{ path: `findings.${i}.location`, message }] : [],
  );
}

function shareIssues(locations: Fields): Issue[] {
  const shares = LOCATION_IDS.map((id) => fieldsOf(locations[id]).share ?? locationParameters[id].share);
  if (shares.some((share) => share !== 0)) return [];
  return [{ path: "prices.locations", message: "Give at least one location a share above 0." }];
}
