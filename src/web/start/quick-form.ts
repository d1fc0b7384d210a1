import { CLIMATES } from "../../../data/climates.ts";
import { EXAMPLE } from "../../../data/example.ts";
import { planParameters, priceParameters, requestBounds } from "../../../data/parameters.ts";
import { PLACES, type PlaceId } from "../../../data/rules.ts";
import { LIKELY_REFRIGERANTS, TYPICAL_CHARGES } from "../../../data/typical-charges.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import {
  BLANK_LINE,
  type Deed,
  isBlank,
  type LogLineFields,
  lineFieldId,
  NAMEPLATE_UNKNOWN,
  type QuickFields,
  UNSURE,
} from "../../../views/start/quick-fields.ts";
import type { WeightedRequest } from "../../core/mixed-answer.ts";
import { dayNumber, formatShortDate, isIsoDate, isoFromDay } from "../../core/quantities/dates.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { parseWhen, type WhenContext } from "../../core/quantities/parse-when.ts";
import { isUnknown } from "../../core/quantities/typed-number.ts";
import { UNIT_SYSTEMS } from "../../core/quantities/units.ts";
import {
  type AssessRequest,
  COOLING,
  type Cooling,
  type LocationId,
  type LogEntry,
  REFRIGERANTS,
  type RefrigerantId,
} from "../../core/question/contract.ts";
import { type Supposition, supposing } from "../../core/question/suppose.ts";
import { type DatedEntry, logsOfVagueDates } from "../../core/question/vague-dates.ts";
import { withVehiclePrices } from "../../core/question/vehicle-prices.ts";
import { GENERAL_TERMS, ownerIsPriced, type Terms, usualService } from "../../core/quotes/price-terms.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { isEmpty, NAMEPLATE_NEEDED, oneOf, readNameplate, withUnit } from "../forms/typed-values.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
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

/** A place without known rules. */
const NOWHERE: PlaceId = "elsewhere";

/** The sample, as if someone had typed it on `today`. */
export function exampleFields(today: string, terms: Terms = GENERAL_TERMS): QuickFields {
  const { lines, ...rest } = EXAMPLE;
  return {
    ...blankFields(today, terms),
    ...rest,
    example: true,
    lines: lines.map(({ days_ago, ...line }) => ({
      ...line,
      when: formatShortDate(isoFromDay(dayNumber(today) - days_ago)),
    })),
  };
}

/** An empty sheet. */
export function blankFields(today: string, terms: Terms = GENERAL_TERMS): QuickFields {
  return {
    as_of: today,
    units: "us",
    refrigerant: UNSURE,
    electric: "",
    nameplate: "",
    climate: "",
    where: NOWHERE,
    lines: [BLANK_LINE],
    today: "",
    keep: String(planParameters.keep_years.default),
    service: usualService(terms),
    tools: false,
    says: "",
    found: "",
    place: "",
    quote: "",
    carbon: "",
    floor: "",
    label: "",
    example: false,
  };
}

/**
 * The fields of an address (`?refrigerant=R-134a&nameplate=23+oz&when=…&did=…&amount=…&cooled=…`), each as it was
 * typed. Lines of the log are told by position. `add` appends an empty line, `remove=2` takes the second away; `size`
 * is a button that writes the nameplate charge. Addresses from before a refrigerant could be unsure all name one.
 */
export function fieldsOfAddress(query: URLSearchParams, today: string, terms: Terms = GENERAL_TERMS): QuickFields {
  const blank = blankFields(today, terms);
  const text = (name: Exclude<keyof QuickFields, "lines" | "tools" | "units" | "example">) =>
    query.get(name) ?? blank[name];
  const as_of = query.get("as_of") ?? today;
  const units = oneOf(UNIT_SYSTEMS, query.get("units")) ?? blank.units;
  const typed_in = oneOf(UNIT_SYSTEMS, query.get("typed_in")) ?? units;
  const mass = (typed: string) => (typed_in === units ? typed : withUnit(typed, typed_in === "us" ? "oz" : "g"));
  return {
    as_of: isIsoDate(as_of) && as_of >= requestBounds.as_of.min && as_of <= requestBounds.as_of.max ? as_of : today,
    units,
    refrigerant: text("refrigerant"),
    electric: text("electric"),
    nameplate: query.get("size") ?? mass(text("nameplate")),
    climate: text("climate"),
    where: text("where"),
    lines: linesOfAddress(query).map((line) => ({ ...line, amount: mass(line.amount) })),
    today: text("today"),
    keep: text("keep"),
    service: ownerIsPriced(terms) ? text("service") : blank.service,
    tools: query.has("tools"),
    says: text("says"),
    found: text("found"),
    place: text("place"),
    quote: text("quote"),
    carbon: text("carbon"),
    floor: text("floor"),
    label: text("label"),
    example: query.has("example"),
  };
}

function linesOfAddress(query: URLSearchParams): LogLineFields[] {
  const columns = {
    when: query.getAll("when"),
    did: query.getAll("did"),
    amount: query.getAll("amount"),
    cooled: query.getAll("cooled"),
  };
  // One line too many is rejected by name; thousands would make that page too long to send.
  const longest = Math.max(...Object.values(columns).map(({ length }) => length));
  const count = Math.min(longest, requestBounds.log.max_entries);
  const lines = Array.from({ length: count }, (_, i) => ({
    when: columns.when[i] ?? "",
    did: columns.did[i] ?? BLANK_LINE.did,
    amount: columns.amount[i] ?? "",
    cooled: columns.cooled[i] ?? "",
  }));
  const removed = Number(query.get("remove") ?? 0) - 1;
  const kept = lines.filter((_, i) => i !== removed);
  return query.has("add") ? [...kept, BLANK_LINE] : kept;
}

/** The address that brings these fields back, without what equals an empty sheet's what-ifs. */
export function addressOfFields(fields: QuickFields): string {
  const query = new URLSearchParams();
  if (fields.example) query.set("example", "yes");
  for (const name of ["units", "refrigerant", "nameplate", "climate"] as const) query.set(name, fields[name]);
  for (const line of fields.lines) {
    for (const part of ["when", "did", "amount", "cooled"] as const) query.append(part, line[part]);
  }
  for (const name of ["today", "keep", "service"] as const) query.set(name, fields[name]);
  if (fields.tools) query.set("tools", "yes");
  if (fields.where !== NOWHERE) query.set("where", fields.where);
  for (const name of ["electric", "says", "found", "place", "quote", "carbon", "floor", "label"] as const)
    if (fields[name] !== "") query.set(name, fields[name]);
  query.set("as_of", fields.as_of);
  return `/?${query}`;
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
  const read = vehicles.flatMap((known) => {
    const { log: dated, line_of_entry } = readLog(fields, known.refrigerant, refuse);
    // A stored entry has a single date: the best one.
    const entries = exact ? dated.map(({ entry }) => ({ entry, when: null })) : dated;
    return logsOfVagueDates(entries).map(({ weight, log }) => {
      const parsed = requestOf(fields, known, log, climate?.monthly_mean_c, supposed, terms);
      return { known: { ...known, weight: known.weight * weight }, log, parsed, line_of_entry };
    });
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

/** The log that the lines tell, and to each entry the line that it came from; null for how it cools today. */
function readLog(fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  const log: DatedEntry[] = [];
  const line_of_entry: (number | null)[] = [];
  if (fields.lines.length > requestBounds.log.max_entries - 1) {
    refuse(
      lineFieldId("when", 0),
      `Enter at most ${requestBounds.log.max_entries - 1} lines. Leave out the oldest ones`,
    );
    return { log, line_of_entry };
  }
  fields.lines.forEach((line, i) => {
    if (isBlank(line)) return;
    const dated = readLine(line, i, fields, refrigerant, refuse);
    if (dated === undefined) return;
    log.push(dated);
    line_of_entry.push(i);
  });
  const today = readCooling(fields.today);
  if (today === undefined) refuse("today", COOLED);
  else if (today !== null) {
    log.push({ entry: { date: fields.as_of, cooling: today }, when: null });
    line_of_entry.push(null);
  }
  return { log, line_of_entry };
}

const COOLED = "Choose how it cooled, or “Don't know”";

/**
 * How dates are read here. Where the person is says in which order day and month are; where nobody said, it is asked.
 */
export function whenContext({ as_of, where }: QuickFields): WhenContext {
  return { as_of, order: isPlace(where) ? PLACES[where].date_order : null };
}

function readLine(line: LogLineFields, i: number, fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  const when = line.when.trim() === "" ? null : parseWhen(line.when, whenContext(fields));
  if (when === null) refuse(lineFieldId("when", i), "Enter when it was, like June 2024 or 14 Jun 2024");
  else if (!when.ok) refuse(lineFieldId("when", i), when.message);
  const deed = deedOf(line.did);
  if (deed === undefined) refuse(lineFieldId("did", i), "Choose what was done");
  const amount_g = readAmount(line.amount, i, fields, refrigerant, refuse);
  const cooling = readCooling(line.cooled);
  if (cooling === undefined) refuse(lineFieldId("cooled", i), COOLED);
  if (!when?.ok || deed === undefined || amount_g === undefined || cooling === undefined) return undefined;
  const { amount, ...rest } = deed;
  return {
    entry: { date: when.iso, cooling, ...rest, ...(amount === null ? {} : { [amount]: amount_g }) },
    when,
  };
}

/** Grams, null where nothing was typed or it is not known, undefined where it was refused. */
function readAmount(typed: string, i: number, fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  if (typed.trim() === "" || isUnknown(typed)) return null;
  const can_net_g = priceParameters.can_net_g.default[refrigerant];
  const mass = parseMass(typed, { system: fields.units, can_net_g });
  return mass.ok ? mass.grams : refuse(lineFieldId("amount", i), mass.message);
}

/**
 * What a choice of the form says in the log's own terms, and which amount stands beside it; undefined for no such
 * choice.
 */
type DeedTerms = Pick<LogEntry, "added_by" | "finish" | "repair"> & { amount: "added_g" | "recovered_g" | null };

const DEED_TERMS: Readonly<Record<Deed, DeedTerms>> = {
  cans: { added_by: "cans", finish: "unknown", amount: "added_g" },
  "cans-low-side": { added_by: "cans", finish: "low-side", amount: "added_g" },
  "cans-gauges": { added_by: "cans", finish: "gauges", amount: "added_g" },
  scale: { added_by: "scale", finish: "unknown", amount: "added_g" },
  weighed: { finish: "weighed", amount: "added_g" },
  recovered: { finish: "weighed", amount: "recovered_g" },
  looked: { amount: null },
  "repair-service-port": repaired("service-port"),
  "repair-joint": repaired("joint"),
  "repair-hose": repaired("hose"),
  "repair-condenser": repaired("condenser"),
  "repair-evaporator": repaired("evaporator"),
  "repair-compressor": repaired("compressor"),
};

function repaired(place: LocationId): DeedTerms {
  return { finish: "weighed", repair: place, amount: "added_g" };
}

function deedOf(did: string): DeedTerms | undefined {
  return Object.hasOwn(DEED_TERMS, did) ? DEED_TERMS[did as Deed] : undefined;
}

function readCooling(typed: string): Cooling | null | undefined {
  return typed === "" ? null : oneOf(COOLING, typed);
}

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
