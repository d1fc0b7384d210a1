import { EXAMPLE } from "../../../data/example.ts";
import { planParameters, requestBounds } from "../../../data/parameters.ts";
import type { PlaceId } from "../../../data/rules.ts";
import { BLANK_LINE, type LogLineFields, type QuickFields, UNSURE } from "../../../views/start/quick-fields.ts";
import { dayNumber, formatShortDate, isIsoDate, isoFromDay } from "../../core/quantities/dates.ts";
import { UNIT_SYSTEMS } from "../../core/quantities/units.ts";
import { GENERAL_TERMS, ownerIsPriced, type Terms, usualService } from "../../core/quotes/price-terms.ts";
import { oneOf, withUnit } from "../forms/typed-values.ts";

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

/** The fields in the address of a question that another form carries along: names and values, but for `asked` by it. */
export function carriedAlong(address: string, asked: readonly string[]): [name: string, value: string][] {
  return [...new URL(address, "http://localhost").searchParams].filter(([name]) => !asked.includes(name));
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
