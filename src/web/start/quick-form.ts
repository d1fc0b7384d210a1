import { CLIMATES } from "../../../data/climates.ts";
import { requestBounds } from "../../../data/parameters.ts";
import { LIKELY_REFRIGERANTS, TYPICAL_CHARGES } from "../../../data/typical-charges.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { lineFieldId, NAMEPLATE_UNKNOWN, type QuickFields, UNSURE } from "../../../views/start/quick-fields.ts";
import type { WeightedRequest } from "../../core/mixed-answer.ts";
import { isUnknown } from "../../core/quantities/typed-number.ts";
import { type AssessRequest, type LogEntry, REFRIGERANTS, type RefrigerantId } from "../../core/question/contract.ts";
import { type Supposition, supposing } from "../../core/question/suppose.ts";
import { withVehiclePrices } from "../../core/question/vehicle-prices.ts";
import { GENERAL_TERMS, type Terms } from "../../core/quotes/price-terms.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { isEmpty, NAMEPLATE_NEEDED, oneOf, readNameplate } from "../forms/typed-values.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
import { COOLED, readLog } from "./quick-log.ts";
import { type Refuse, readWhatIf, whatIfRefusal } from "./what-if.ts";

/** The quick question as typed, with the request that it makes, or the errors, or neither yet. */
export interface QuickQuestion {
  fields: QuickFields;
  errors: FieldError[];
  /**
   * What is asked where vehicle and refrigerant are known; null while they are not, or while something is to be fixed.
   */
  request: AssessRequest | null;
  /** The question under each of its suppositions: one, where `request` is there; none while there is no answer. */
  cases: readonly WeightedRequest[];
}

/** The vehicle under one supposition. */
interface KnownVehicle {
  weight: number;
  refrigerant: RefrigerantId;
  nameplate_g: number;
}

interface ReadOptions {
  /**
   * Whether what follows needs the refrigerant and the nameplate charge themselves: then not knowing them is to be
   * fixed.
   */
  exact?: boolean;
  /** Whose prices hold where it is asked. With a book the requests come without prices: `quickCase` puts them in. */
  terms?: Terms;
}

/**
 * Reads the fields. A missing nameplate charge is an error only when an answer was `asked` for; an unknown one, or an
 * unknown refrigerant, makes a question with several suppositions.
 */
export function readQuickForm(
  fields: QuickFields,
  asked: boolean,
  { exact = false, terms = GENERAL_TERMS }: ReadOptions = {},
): QuickQuestion {
  const errors = new Map<string, string>();
  const refuse: Refuse = (field, message) => {
    if (!errors.has(field)) errors.set(field, message);
    return undefined;
  };
  const waiting = fields.nameplate.trim() === "" && !asked;

  const vehicles = knownVehicles(fields, { waiting, exact }, refuse);
  const climate = CLIMATES.find(({ id }) => id === fields.climate);
  if (climate === undefined && fields.climate !== "") refuse("climate", CLIMATE);
  if (!isPlace(fields.where)) refuse("where", WHERE);
  if (!["", "no", "yes"].includes(fields.electric)) refuse("electric", ELECTRIC);
  if (isEmpty(fields.keep)) refuse(...whatIfRefusal("plan.keep_years"));
  const supposed = readWhatIf(fields, refuse, terms.currency);

  // What could not be read has a stand-in by now, so that everything else is checked too and told at once.
  const read = vehicles.map((known) => {
    const { log, line_of_entry } = readLog(fields, known.refrigerant, refuse);
    const parsed = requestOf(fields, known, log, climate?.monthly_mean_c, supposed, terms);
    return { known, log, parsed, line_of_entry };
  });
  const fitting = read.filter(({ parsed }) => parsed.ok);
  for (const { parsed, line_of_entry } of fitting.length === 0 ? read.slice(-1) : [])
    if (!parsed.ok) for (const { path } of parsed.issues) refuse(...errorAt(path, line_of_entry));
  const cases = waiting || errors.size > 0 ? [] : casesOf(fitting);
  return {
    fields,
    errors: [...errors].map(([field, message]) => ({ field, message })).toSorted(byPlaceInForm),
    request: vehicles.length === 1 && cases.length === 1 ? (cases[0]?.request ?? null) : null,
    cases,
  };
}

function requestOf(
  fields: QuickFields,
  { refrigerant, nameplate_g }: KnownVehicle,
  log: LogEntry[],
  monthly_mean_c: readonly number[] | undefined,
  supposed: Supposition,
  { book }: Terms,
) {
  const vehicle = { refrigerant, nameplate_g, monthly_mean_c: monthly_mean_c ? [...monthly_mean_c] : null };
  const plan = { tools_owned: fields.tools };
  const asked = { as_of: fields.as_of, vehicle, log, plan };
  if (book !== null) {
    const { place, quote, ...plan_only } = supposed;
    return parseAssessRequest(supposing(asked, plan_only), fields.as_of);
  }
  const priced = withVehiclePrices(asked, { electric: fields.electric === "yes" });
  return parseAssessRequest(supposing(priced, supposed), fields.as_of);
}

interface ReadCase {
  known: KnownVehicle;
  log: readonly LogEntry[];
  parsed: ReturnType<typeof requestOf>;
}

/**
 * The suppositions that the log leaves, their weights adding to 1. A size that a single top-off would have filled
 * beyond its nameplate is out, as long as another is left.
 */
function casesOf(read: readonly ReadCase[]): WeightedRequest[] {
  const largest = Math.max(...read.map(({ known }) => known.nameplate_g));
  const fits = ({ known, log }: ReadCase) =>
    known.nameplate_g === largest || log.every(({ added_g }) => (added_g ?? 0) <= known.nameplate_g);
  const left = read.filter(fits);
  const total = left.reduce((sum, { known }) => sum + known.weight, 0);
  return left.flatMap(({ known, parsed }) =>
    parsed.ok ? [{ weight: known.weight / total, request: parsed.request }] : [],
  );
}

/** Each pair of refrigerant and nameplate charge that the fields allow. */
function knownVehicles(
  fields: QuickFields,
  { waiting, exact }: { waiting: boolean; exact: boolean },
  refuse: Refuse,
): KnownVehicle[] {
  const unsure = fields.refrigerant === UNSURE;
  if (unsure && exact) refuse("refrigerant", REFRIGERANT_NEEDED);
  const named = unsure ? undefined : (oneOf(REFRIGERANTS, fields.refrigerant) ?? refuse("refrigerant", REFRIGERANT));
  const refrigerants = unsure ? LIKELY_REFRIGERANTS : [{ id: named ?? ("R-134a" as const), share: 1 }];
  if (isUnknown(fields.nameplate)) {
    if (exact) refuse("nameplate", NAMEPLATE_FROM_LABEL);
    return refrigerants.flatMap(({ id, share }) =>
      TYPICAL_CHARGES[id].map((size) => ({
        weight: share * size.share,
        refrigerant: id,
        nameplate_g: size.nameplate_g,
      })),
    );
  }
  const nameplate_g =
    (waiting ? undefined : (readNameplate(fields.nameplate, fields.units) ?? refuse("nameplate", NAMEPLATE_OR_NOT))) ??
    requestBounds.nameplate_g.max;
  return refrigerants.map(({ id, share }) => ({ weight: share, refrigerant: id, nameplate_g }));
}

const FORM_ORDER = [
  "refrigerant",
  "electric",
  "nameplate",
  "when",
  "did",
  "amount",
  "cooled",
  "today",
  "climate",
  "where",
  "service",
  "keep",
  "place",
  "quote",
  "floor",
  "carbon",
  "label",
];

/** Field ids in page order, lines of the log one after the other. */
function byPlaceInForm(a: FieldError, b: FieldError): number {
  const [a_name = "", a_line] = a.field.split("-");
  const [b_name = "", b_line] = b.field.split("-");
  if (a_line !== undefined && b_line !== undefined && a_line !== b_line) return Number(a_line) - Number(b_line);
  return FORM_ORDER.indexOf(a_name) - FORM_ORDER.indexOf(b_name);
}

const REFRIGERANT = "Choose the refrigerant, or “Not sure”. It is on a label under the hood";
const REFRIGERANT_NEEDED = "Read the refrigerant off the label under the hood. This can't be done without it";
const ELECTRIC = "Choose yes, no or not sure";
const CLIMATE = "Choose the climate, or “Don't know”";
const WHERE = "Choose where the vehicle is, or “Somewhere else”";
const NAMEPLATE_OR_NOT = `${NAMEPLATE_NEEDED}, or “${NAMEPLATE_UNKNOWN}”`;
const NAMEPLATE_FROM_LABEL = "Read the nameplate charge off the label under the hood, or choose a typical size";
const TOO_OLD = `Enter a date in the last ${requestBounds.log.years_before} years, ${requestBounds.log.first_date.slice(0, 4)} or later`;
const TOO_MUCH = "That is more than three times the nameplate charge. Check both amounts";

/** The field and wording for an issue of the request's own check. */
function errorAt(path: string, line_of_entry: readonly (number | null)[]): [field: string, message: string] {
  const [top, entry = "", part = ""] = path.split(".");
  if (top === "log") {
    const line = line_of_entry[Number(entry)] ?? null;
    if (line === null) return ["today", COOLED];
    return part === "date" ? [lineFieldId("when", line), TOO_OLD] : [lineFieldId("amount", line), TOO_MUCH];
  }
  return path === "vehicle.nameplate_g" ? ["nameplate", NAMEPLATE_NEEDED] : whatIfRefusal(path);
}
