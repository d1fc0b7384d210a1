import { priceParameters, requestBounds } from "../../../data/parameters.ts";
import { PLACES } from "../../../data/rules.ts";
import {
  type Did,
  isBlank,
  type LogLineFields,
  lineFieldId,
  type QuickFields,
} from "../../../views/start/quick-fields.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { parseWhen, type WhenContext, withinDays } from "../../core/quantities/parse-when.ts";
import { isUnknown } from "../../core/quantities/typed-number.ts";
import {
  COOLING,
  type Cooling,
  type LocationId,
  type LogEntry,
  type RefrigerantId,
} from "../../core/question/contract.ts";
import { isPlace } from "../../core/rules/rules.ts";
import { oneOf } from "../forms/typed-values.ts";
import type { Refuse } from "./what-if.ts";

/** The log that the lines tell, and to each entry the line that it came from; null for how it cools today. */
export function readLog(fields: QuickFields, refrigerant: RefrigerantId, refuse: Refuse) {
  const log: LogEntry[] = [];
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
    log.push({ date: fields.as_of, cooling: today });
    line_of_entry.push(null);
  }
  return { log, line_of_entry };
}

export const COOLED = "Choose how it cooled, or “Don't know”";

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
  const logged = loggedAs(line.did);
  if (logged === undefined) refuse(lineFieldId("did", i), "Choose what was done");
  const amount_g = readAmount(line.amount, i, fields, refrigerant, refuse);
  const cooling = readCooling(line.cooled);
  if (cooling === undefined) refuse(lineFieldId("cooled", i), COOLED);
  if (!when?.ok || logged === undefined || amount_g === undefined || cooling === undefined) return undefined;
  const { amount, ...rest } = logged;
  const within_days = withinDays(when);
  return {
    date: when.iso,
    ...(within_days === 0 ? {} : { date_within_days: within_days }),
    cooling,
    ...rest,
    ...(amount === null ? {} : { [amount]: amount_g }),
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
 * What a choice of the form means in the log's terms, and into which field the amount beside it goes; null for none.
 */
type LoggedAs = Pick<LogEntry, "added_by" | "finish" | "repair"> & { amount: "added_g" | "recovered_g" | null };

const LOGGED_AS: Readonly<Record<Did, LoggedAs>> = {
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

function repaired(place: LocationId): LoggedAs {
  return { finish: "weighed", repair: place, amount: "added_g" };
}

function loggedAs(did: string): LoggedAs | undefined {
  return Object.hasOwn(LOGGED_AS, did) ? LOGGED_AS[did as Did] : undefined;
}

function readCooling(typed: string): Cooling | null | undefined {
  return typed === "" ? null : oneOf(COOLING, typed);
}
