import { requestBounds } from "../../../data/parameters.ts";
import { type EntryFields, type ReadBack, WHAT, type What } from "../../../views/vehicles/record/entry-fields.ts";
import { formatDate } from "../../core/quantities/dates.ts";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { massReadBack, whenReadBack } from "../../core/quantities/read-back.ts";
import { typedWhen } from "../../core/quantities/said-when.ts";
import { typedMass } from "../../core/quantities/typed-mass.ts";
import { isUnknown } from "../../core/quantities/typed-number.ts";
import { ADDED_BY, COOLING, FINISHES, LOCATION_IDS } from "../../core/question/contract.ts";
import {
  type ChargeEntry,
  type ChargeEntryInput,
  DYE,
  MAX_REMARK_CHARS,
  recordBounds,
} from "../../core/question/record.ts";
import { recoveredFault } from "../../core/refrigerant/recovered.ts";
import { type Read, Refusals, readVisitDay, readWords } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf, readMoney } from "../forms/typed-values.ts";
import type { About } from "./about.ts";

const FIELDS = [
  "what",
  "when",
  "cooling",
  "recovered",
  "repair",
  "added",
  "can_before",
  "can_after",
  "added_by",
  "finish",
  "dye",
  "cans",
  "deposit",
  "return_by",
  "after",
  "note",
] as const;

const CHOOSE = {
  cooling: "Choose how it cooled, or “Don't know”",
  repair: "Choose the repaired location",
  added_by: "Choose what it was measured by",
  finish: "Choose how the fill level was checked",
  dye: "Choose whether dye was added",
  after: "Choose how it cooled afterwards, or “Don't know”",
} as const;
const CAN_BEFORE = "Enter the weight before too, like 16.4 oz, or leave both blank";
const CAN_AFTER = "Enter the weight after too, like 4.1 oz, or leave both blank";
const WHAT_WAS_DONE = "Choose what was done";
const NOTHING = "Choose how it cooled, or enter what was done";
const NO_LOCATION = "Choose the repaired location";
const TOO_MUCH = "That is more than three times the nameplate charge. Check both amounts";

/** An entry that may begin with what an address brings along, `?added=12+oz&finish=low-side`. */
export function blankEntry(query: URLSearchParams, { today }: About): EntryFields {
  const fields = entryFieldsOf(query);
  const what = whatOf(fields);
  return {
    ...fields,
    what: fields.what || (what === "looked" ? "" : what),
    when: query.get("when") ?? formatDate(today),
  };
}

/** The posted fields as typed. */
export function entryFieldsOf(form: URLSearchParams): EntryFields {
  const typed = typedFields(form, FIELDS);
  return { ...typed, added_by: typed.added_by || "cans" };
}

/** A stored entry as its form shows it. */
export function typedEntry(entry: ChargeEntry, { units }: About): EntryFields {
  const mass = (grams: number | null) => (grams === null ? "" : typedMass(grams, units));
  const fields = {
    what: "",
    when: typedWhen(entry.date, entry.date_within_days),
    cooling: entry.cooling ?? "",
    recovered: mass(entry.recovered_g),
    repair: entry.repair ?? "",
    added: mass(entry.added_g),
    can_before: "",
    can_after: "",
    added_by: entry.added_by ?? "cans",
    finish: entry.finish ?? "",
    dye: entry.dye ?? "",
    after: entry.cooling_after ?? "",
    cans: entry.cans_opened === null ? "" : String(entry.cans_opened),
    deposit: entry.deposit === null ? "" : String(entry.deposit),
    return_by: entry.deposit_return_by === null ? "" : formatDate(entry.deposit_return_by),
    note: entry.note ?? "",
  };
  return { ...fields, what: whatOf(fields) };
}

/** What the fields say was done, the most first. */
function whatOf({ repair, recovered, added, can_before, finish, dye, cans }: Omit<EntryFields, "what">): What {
  if (repair !== "") return "repaired";
  if (recovered !== "" || finish === "weighed") return "recharged";
  return added !== "" || can_before !== "" || finish !== "" || dye !== "" || cans !== "" ? "topped-off" : "looked";
}

/** Fields that do not apply to a deed: the form hides them, and their content is ignored. */
const NOT_ASKED: Readonly<Record<What, readonly (keyof EntryFields)[]>> = {
  looked: [
    "recovered",
    "repair",
    "added",
    "can_before",
    "can_after",
    "finish",
    "dye",
    "after",
    "cans",
    "deposit",
    "return_by",
  ],
  "topped-off": ["recovered", "repair"],
  recharged: ["repair", "can_before", "can_after"],
  repaired: ["can_before", "can_after"],
};

/** The fields that count for what was done. A recharge is by weight unless another check was named. */
function counted(fields: EntryFields, what: What): EntryFields {
  const none = Object.fromEntries(NOT_ASKED[what].map((name) => [name, ""]));
  const by_weight = (what === "recharged" || what === "repaired") && fields.finish === "" ? { finish: "weighed" } : {};
  const unmeasured = (isEmpty(fields.added) || isUnknown(fields.added)) && isEmpty(fields.can_before);
  const topped = what === "topped-off" && fields.finish === "" && unmeasured ? { finish: "unknown" } : {};
  return { ...fields, ...by_weight, ...topped, ...none };
}

/** Parses an entry. Cans count by the weight in the vehicle's prices. */
export function readEntry(typed: EntryFields, about: About): Read<ChargeEntryInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const what = typed.what === "" ? null : (oneOf(WHAT, typed.what) ?? refuse("what", WHAT_WAS_DONE) ?? null);
  const fields = what === null ? typed : counted(typed, what);
  if (what === "repaired" && fields.repair === "") refuse("repair", NO_LOCATION);
  const when = readVisitDay(fields.when, about);
  if ("message" in when) refuse("when", when.message);
  const amount = (field: "recovered" | "added") => {
    const read = readAmount(fields[field], about);
    return typeof read === "string" ? refuse(field, read) : read;
  };
  const chosen = <const T extends string>(field: keyof typeof CHOOSE, choices: readonly T[]) =>
    fields[field] === "" ? null : (oneOf(choices, fields[field]) ?? refuse(field, CHOOSE[field]));

  const recovered_g = amount("recovered");
  const { nameplate_g } = about.vehicle;
  const too_much = recovered_g == null ? null : recoveredFault(recovered_g, { nameplate_g, units: about.units });
  if (too_much !== null) refuse("recovered", too_much);
  const weighed_g = readWeighed(fields, about, refuse);
  const added_g = weighed_g ?? amount("added");
  const added_by = weighed_g === null ? chosen("added_by", ADDED_BY) : "scale";
  const [cooling, finish] = [chosen("cooling", COOLING), chosen("finish", FINISHES)];
  const [repair, dye] = [chosen("repair", LOCATION_IDS), chosen("dye", DYE)];
  const cooling_after = chosen("after", COOLING);
  const returned = readReturned(fields, refuse, about.currency);
  const note = readWords(fields.note, MAX_REMARK_CHARS);
  if ("message" in note) refuse("note", note.message);
  const said = [cooling, recovered_g, added_g, finish, repair, dye, cooling_after, returned.cans_opened];
  if (said.every((one) => one === null)) refuse("cooling", NOTHING);

  const errors = refusals.inOrder(FIELDS);
  if (errors.length > 0 || "message" in when || "message" in note) return { ok: false, errors };
  const input = {
    date: when.iso,
    date_within_days: when.within_days,
    cooling,
    recovered_g,
    added_g,
    // Nothing added means nothing was measured.
    added_by: added_g === null ? null : added_by,
    finish,
    repair,
    dye: dye ?? null,
    cooling_after: cooling_after ?? null,
    ...returned,
    note: note.words,
  };
  return { ok: true, input };
}

/**
 * How the fields that were typed were read, where that says more than what was typed, or what would be right; only
 * those that stand in the form.
 */
export function readBackOfEntry(fields: Partial<EntryFields>, about: About): ReadBack {
  const { when, added, recovered } = fields;
  return {
    when: isEmpty(when ?? "") ? null : dayBack(when!, about),
    added: amountBack(added ?? "", about),
    recovered: amountBack(recovered ?? "", about),
  };
}

function dayBack(typed: string, about: About): string | null {
  const day = readVisitDay(typed, about);
  if ("message" in day) return day.message;
  const said = whenReadBack(typed, day.when);
  return said === null ? null : `Read as ${said}`;
}

function amountBack(typed: string, about: About): string | null {
  if (isEmpty(typed)) return null;
  if (isUnknown(typed)) return "Read as not known";
  const read = readAmount(typed, about);
  if (typeof read === "string") return read;
  const mass = parseMass(typed, { system: about.units, can_net_g: about.can_net_g });
  const said = mass.ok ? massReadBack(typed, mass, about.units) : null;
  return said === null ? null : `Read as ${said}`;
}

/** Refrigerant used from the cans by weighing them before and after, in grams; null where they were not weighed. */
function readWeighed(
  fields: Pick<EntryFields, "can_before" | "can_after">,
  about: About,
  refuse: Refusals["refuse"],
): number | null {
  const { can_before, can_after } = fields;
  if (isEmpty(can_before) && isEmpty(can_after)) return null;
  if (isEmpty(can_before)) refuse("can_before", CAN_BEFORE);
  if (isEmpty(can_after)) refuse("can_after", CAN_AFTER);
  if (isEmpty(can_before) || isEmpty(can_after)) return null;
  const [before, after] = [readAmount(can_before, about), readAmount(can_after, about)];
  if (typeof before === "string") refuse("can_before", before);
  if (typeof after === "string") refuse("can_after", after);
  if (typeof before !== "number" || typeof after !== "number") return null;
  if (after <= before) return before - after;
  refuse("can_after", "The cans weigh more after than before. Check both weights");
  return null;
}

/** Cans and their deposit; null when empty. */
function readReturned({ cans, deposit, return_by }: EntryFields, refuse: Refusals["refuse"], currency: string) {
  const number = (field: "cans" | "deposit", typed: string, fits: (value: number) => boolean, message: string) => {
    if (isEmpty(typed)) return null;
    const value = readMoney(typed, currency);
    if (value !== undefined && fits(value)) return value;
    refuse(field, message);
    return null;
  };
  const day = isEmpty(return_by) ? null : parseDate(return_by, LAST_DAY);
  if (day !== null && !day.ok) refuse("return_by", day.message);
  return {
    cans_opened: number(
      "cans",
      cans,
      (value) => Number.isInteger(value) && value <= recordBounds.cans_opened.max,
      CANS,
    ),
    deposit: number("deposit", deposit, (value) => value <= recordBounds.deposit.max, DEPOSIT),
    deposit_return_by: day?.ok ? day.iso : null,
  };
}

const CANS = "Enter how many cans were opened, a whole number like 2, or leave it blank";
const DEPOSIT = "Enter the total deposit paid, like 20, or leave it blank";
/** A deposit comes back later than the day of the form. */
const LAST_DAY = requestBounds.as_of.max;

/** Grams; null when empty; or an error message. */
function readAmount(typed: string, { units, vehicle, can_net_g }: About): number | null | string {
  if (isEmpty(typed) || isUnknown(typed)) return null;
  const mass = parseMass(typed, { system: units, can_net_g });
  if (!mass.ok) return mass.message;
  return mass.grams > requestBounds.log.amount_nameplates * vehicle.nameplate_g ? TOO_MUCH : mass.grams;
}
