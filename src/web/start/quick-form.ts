import { CLIMATES } from "../../../data/climates.ts";
import { EXAMPLE } from "../../../data/example.ts";
import { planParameters, priceParameters, requestBounds } from "../../../data/parameters.ts";
import type { PlaceId } from "../../../data/rules.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import {
  BLANK_LINE,
  type Deed,
  isBlank,
  type LogLineFields,
  lineFieldId,
  type QuickFields,
} from "../../../views/start/quick-fields.ts";
import { calendarFromDay, dayNumber, isIsoDate, MONTH_NAMES } from "../../core/quantities/dates.ts";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
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
import { supposing } from "../../core/question/suppose.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { isEmpty, NAMEPLATE_NEEDED, oneOf, readNameplate, withUnit } from "../forms/typed-values.ts";
import { parseAssessRequest } from "../schemas/assess-request.ts";
import { type Refuse, readWhatIf, whatIfRefusal } from "./what-if.ts";

/** The quick question as it came in, and what it asks of the model: a request, or what to put right, or neither yet. */
export interface QuickQuestion {
  fields: QuickFields;
  errors: FieldError[];
  request: AssessRequest | null;
}

/** The place of which no rule is known. */
const NOWHERE: PlaceId = "elsewhere";

/** The invented example, as if someone had typed it on `today`. */
export function exampleFields(today: string): QuickFields {
  const { lines, ...rest } = EXAMPLE;
  return {
    ...blankFields(today),
    ...rest,
    lines: lines.map(({ days_ago, ...line }) => ({ ...line, when: typedDate(dayNumber(today) - days_ago) })),
  };
}

/** A day as someone would type it: `9 Jul 2023`. */
function typedDate(day_number: number): string {
  const { year, month, day } = calendarFromDay(day_number);
  return `${day} ${MONTH_NAMES[month - 1]?.slice(0, 3)} ${year}`;
}

/** An empty sheet. */
export function blankFields(today: string): QuickFields {
  return {
    as_of: today,
    units: "us",
    refrigerant: "R-134a",
    nameplate: "",
    climate: "",
    where: NOWHERE,
    lines: [BLANK_LINE, BLANK_LINE, BLANK_LINE],
    today: "",
    keep: String(planParameters.keep_years.default),
    service: "diy",
    tools: false,
    says: "",
    found: "",
    place: "",
    quote: "",
    carbon: "",
    floor: "",
    label: "",
  };
}

/**
 * The fields of an address (`?refrigerant=R-134a&nameplate=23+oz&when=…&did=…&amount=…&cooled=…`), each as it was typed.
 * Lines of the log are told by position. `add` appends an empty line, `remove=2` takes the second away.
 */
export function fieldsOfAddress(query: URLSearchParams, today: string): QuickFields {
  const blank = blankFields(today);
  const text = (name: Exclude<keyof QuickFields, "lines" | "tools" | "units">) => query.get(name) ?? blank[name];
  const as_of = query.get("as_of") ?? today;
  const units = oneOf(UNIT_SYSTEMS, query.get("units")) ?? blank.units;
  const typed_in = oneOf(UNIT_SYSTEMS, query.get("typed_in")) ?? units;
  const mass = (typed: string) => (typed_in === units ? typed : withUnit(typed, typed_in === "us" ? "oz" : "g"));
  return {
    as_of: isIsoDate(as_of) && as_of >= requestBounds.as_of.min && as_of <= requestBounds.as_of.max ? as_of : today,
    units,
    refrigerant: text("refrigerant"),
    nameplate: mass(text("nameplate")),
    climate: text("climate"),
    where: text("where"),
    lines: linesOfAddress(query).map((line) => ({ ...line, amount: mass(line.amount) })),
    today: text("today"),
    keep: text("keep"),
    service: text("service"),
    tools: query.has("tools"),
    says: text("says"),
    found: text("found"),
    place: text("place"),
    quote: text("quote"),
    carbon: text("carbon"),
    floor: text("floor"),
    label: text("label"),
  };
}

function linesOfAddress(query: URLSearchParams): LogLineFields[] {
  const columns = {
    when: query.getAll("when"),
    did: query.getAll("did"),
    amount: query.getAll("amount"),
    cooled: query.getAll("cooled"),
  };
  const count = Math.max(...Object.values(columns).map((column) => column.length));
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
  for (const name of ["units", "refrigerant", "nameplate", "climate"] as const) query.set(name, fields[name]);
  for (const line of fields.lines) {
    for (const part of ["when", "did", "amount", "cooled"] as const) query.append(part, line[part]);
  }
  for (const name of ["today", "keep", "service"] as const) query.set(name, fields[name]);
  if (fields.tools) query.set("tools", "yes");
  if (fields.where !== NOWHERE) query.set("where", fields.where);
  for (const name of ["says", "found", "place", "quote", "carbon", "floor", "label"] as const)
    if (fields[name] !== "") query.set(name, fields[name]);
  query.set("as_of", fields.as_of);
  return `/?${query}`;
}

/** Reads the fields. A missing nameplate charge is an error only when an answer was `asked` for. */
export function readQuickForm(fields: QuickFields, asked: boolean): QuickQuestion {
  const errors = new Map<string, string>();
  const refuse: Refuse = (field, message) => {
    if (!errors.has(field)) errors.set(field, message);
    return undefined;
  };
  const waiting = fields.nameplate.trim() === "" && !asked;

  const refrigerant = oneOf(REFRIGERANTS, fields.refrigerant) ?? refuse("refrigerant", REFRIGERANT) ?? "R-134a";
  const nameplate_g =
    (waiting ? undefined : (readNameplate(fields.nameplate, fields.units) ?? refuse("nameplate", NAMEPLATE_NEEDED))) ??
    requestBounds.nameplate_g.max;
  const climate = CLIMATES.find(({ id }) => id === fields.climate);
  if (climate === undefined && fields.climate !== "") refuse("climate", CLIMATE);
  if (!isPlace(fields.where)) refuse("where", WHERE);
  const { log, line_of_entry } = readLog(fields, refrigerant, refuse);
  if (isEmpty(fields.keep)) refuse(...whatIfRefusal("plan.keep_years"));
  const supposed = readWhatIf(fields, refuse);

  // What could not be read has a stand-in by now, so that everything else is checked too and told at once.
  const vehicle = { refrigerant, nameplate_g, monthly_mean_c: climate ? [...climate.monthly_mean_c] : null };
  const plan = { tools_owned: fields.tools };
  const parsed = parseAssessRequest(supposing({ as_of: fields.as_of, vehicle, log, plan }, supposed), fields.as_of);
  if (!parsed.ok) for (const { path } of parsed.issues) refuse(...errorAt(path, line_of_entry));
  return {
    fields,
    errors: [...errors].map(([field, message]) => ({ field, message })).toSorted(byPlaceInForm),
    request: parsed.ok && errors.size === 0 && !waiting ? parsed.request : null,
  };
}

const FORM_ORDER = [
  "refrigerant",
  "nameplate",
  "climate",
  "where",
  "when",
  "did",
  "amount",
  "cooled",
  "today",
  "keep",
  "service",
  "place",
  "quote",
  "floor",
  "carbon",
  "label",
];

/** As the fields stand on the page, lines of the log one after the other. */
function byPlaceInForm(a: FieldError, b: FieldError): number {
  const [a_name = "", a_line] = a.field.split("-");
  const [b_name = "", b_line] = b.field.split("-");
  if (a_line !== undefined && b_line !== undefined && a_line !== b_line) return Number(a_line) - Number(b_line);
  return FORM_ORDER.indexOf(a_name) - FORM_ORDER.indexOf(b_name);
}

const REFRIGERANT = "Choose the refrigerant; it is on a label under the hood";
const CLIMATE = "Choose the climate, or leave it not known";
const WHERE = "Choose where the vehicle is, or leave it not said";
const TOO_OLD = `Enter a date of the last ${requestBounds.log.years_before} years, from ${requestBounds.log.first_date.slice(0, 4)} on`;
const TOO_MUCH = "That is more than three nameplate charges. Check the amount, and the nameplate charge";

/** The log that the lines tell, and to each entry the line that it came from; null for how it cools today. */
function readLog(fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  const log: LogEntry[] = [];
  const line_of_entry: (number | null)[] = [];
  if (fields.lines.length > requestBounds.log.max_entries - 1) {
    refuse(lineFieldId("when", 0), `Keep to ${requestBounds.log.max_entries - 1} lines: leave out the oldest ones`);
    return { log, line_of_entry };
  }
  fields.lines.forEach((line, i) => {
    if (isBlank(line)) return;
    const entry = readLine(line, i, fields, refrigerant, refuse);
    if (entry === undefined) return;
    log.push(entry);
    line_of_entry.push(i);
  });
  const today = readCooling(fields.today);
  if (today === undefined) refuse("today", COOLED);
  else if (today !== null) {
    log.push({ date: fields.as_of, cooling: today });
    line_of_entry.push(null);
  }
  return { log, line_of_entry };
}

const COOLED = "Choose how it cooled, or leave it not known";

function readLine(line: LogLineFields, i: number, fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  const when = line.when.trim() === "" ? null : parseDate(line.when, fields.as_of);
  if (when === null) refuse(lineFieldId("when", i), "Enter when it was, like June 2024 or 14 Jun 2024");
  else if (!when.ok) refuse(lineFieldId("when", i), when.message);
  const deed = deedOf(line.did);
  if (deed === undefined) refuse(lineFieldId("did", i), "Choose what was done");
  const amount_g = readAmount(line.amount, i, fields, refrigerant, refuse);
  const cooling = readCooling(line.cooled);
  if (cooling === undefined) refuse(lineFieldId("cooled", i), COOLED);
  if (!when?.ok || deed === undefined || amount_g === undefined || cooling === undefined) return undefined;
  const { amount, ...rest } = deed;
  return { date: when.iso, cooling, ...rest, ...(amount === null ? {} : { [amount]: amount_g }) };
}

/** Grams, null where nothing was typed, undefined where it was refused. */
function readAmount(typed: string, i: number, fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  if (typed.trim() === "") return null;
  const can_net_g = priceParameters.can_net_g.default[refrigerant];
  const mass = parseMass(typed, { system: fields.units, can_net_g });
  return mass.ok ? mass.grams : refuse(lineFieldId("amount", i), mass.message);
}

/** What a choice of the form says in the log's own terms, and which amount stands beside it; undefined for no such choice. */
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

/** The field and the form's words for a refusal of the request's own check. */
function errorAt(path: string, line_of_entry: readonly (number | null)[]): [field: string, message: string] {
  const [top, entry = "", part = ""] = path.split(".");
  if (top === "log") {
    const line = line_of_entry[Number(entry)] ?? null;
    if (line === null) return ["today", COOLED];
    return part === "date" ? [lineFieldId("when", line), TOO_OLD] : [lineFieldId("amount", line), TOO_MUCH];
  }
  return path === "vehicle.nameplate_g" ? ["nameplate", NAMEPLATE_NEEDED] : whatIfRefusal(path);
}
