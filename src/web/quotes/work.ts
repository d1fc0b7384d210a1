import { requestBounds } from "../../../data/parameters.ts";
import type { WorkFields } from "../../../views/quotes/work-form.tsx";
import { assess } from "../../core/assess.ts";
import { formatDate, monthsAfter } from "../../core/quantities/dates.ts";
import { parseDate } from "../../core/quantities/parse-date.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import { COOLING, LOCATION_IDS } from "../../core/question/contract.ts";
import { type ChargeEntryInput, type FindingInput, MAX_REMARK_CHARS } from "../../core/question/record.ts";
import type { QuoteOption } from "../../core/quotes/quote.ts";
import type { QuoteSnapshot } from "../../core/quotes/quote-document.ts";
import { recoveredFault } from "../../core/refrigerant/recovered.ts";
import type { DoneWork } from "../../store/quotes.ts";
import type { Cylinder } from "../../store/refrigerant-log.ts";
import type { VehicleRecord } from "../../store/vehicle-record.ts";
import { type Read, Refusals, tooLong } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";
import { readRefrigerantWork, workFields } from "../refrigerant/refrigerant-forms.ts";
import { vehicleRequest } from "../vehicle-answer.ts";

/** The form for the work of an accepted option, filled in as quoted. */
export function quotedWork(snapshot: QuoteSnapshot, option: QuoteOption, today: string): WorkFields {
  const { work, found, title } = option;
  const place = work.repair === "found" ? (found?.priced_for ?? null) : work.repair;
  const charged = option.lines.some(({ kind }) => kind === "refrigerant");
  // Charging alone is one service; several mean that the system was emptied first.
  const services = option.lines.filter(({ kind }) => kind === "service").length;
  const full = charged && (work.recharge || services > 1);
  return {
    when: formatDate(today),
    cooling: "",
    recovered: "",
    repair: place ?? "",
    // No preset amount: it must be read off a scale, and a preset would be submitted unread.
    added: "",
    filled: full ? "weighed" : charged ? "topped" : "",
    electronic: work.test === "electronic" ? (place ?? "anywhere") : "",
    dye: work.test === "dye",
    note: `Quote ${snapshot.number}: ${title}`,
    ...NOBODY,
    certificate: snapshot.letterhead.certificate,
  };
}

const TYPED = ["when", "cooling", "recovered", "repair", "added", "filled", "electronic", "note"] as const;

/** The fields of the work done as a form sent them. */
export function workFieldsOf(form: URLSearchParams): WorkFields {
  return { ...typedFields(form, TYPED), dye: form.has("dye"), ...workFields(form) };
}

const NOBODY = { technician: "", certificate: "", recovered_into: "", charged_from: "" };

interface WorkCase {
  fields: WorkFields;
  snapshot: QuoteSnapshot;
  /** Id of the option that was accepted. */
  option: string;
  record: VehicleRecord;
  today: string;
  cylinders: readonly Cylinder[];
}

/** Reads what was done: the entry for the charge log, the finding, and the day of the follow-up. */
export function readWork({ fields, snapshot, option, record, today, cylinders }: WorkCase): Read<DoneWork> {
  const refusals = new Refusals();
  const refuse = (field: keyof WorkFields, message: string) => refusals.refuse(field, message) ?? null;
  const { nameplate_g } = record.vehicle;
  const most_g = requestBounds.log.amount_nameplates * nameplate_g;
  const mass = (field: "recovered" | "added") => {
    if (isEmpty(fields[field])) return null;
    const parsed = parseMass(fields[field], { system: snapshot.units });
    if (!parsed.ok) return refuse(field, parsed.message);
    if (parsed.grams <= most_g) return parsed.grams;
    return refuse(field, "That is more than three times the nameplate charge. Check the amount");
  };
  const choice = <const T extends string>(field: keyof WorkFields, choices: readonly T[], typed: string) =>
    typed === "" ? null : (oneOf(choices, typed) ?? refuse(field, "Choose one of these, or none"));

  const day = parseDate(fields.when, today);
  const date = day.ok ? day.iso : (refuse("when", day.message) ?? today);
  if (date > today) refuse("when", "Enter the day on which it was done, not one to come");
  const filled = choice("filled", ["weighed", "topped"], fields.filled);
  const repair = choice("repair", LOCATION_IDS, fields.repair);
  const electronic = choice("electronic", [...LOCATION_IDS, "anywhere"], fields.electronic);
  const cooling = choice("cooling", COOLING, fields.cooling);
  const recovered_g = mass("recovered");
  const added_g = mass("added");
  const too_much = recovered_g === null ? null : recoveredFault(recovered_g, { nameplate_g, units: snapshot.units });
  if (too_much !== null) refuse("recovered", too_much);
  if (filled === "weighed" && added_g === null && !refusals.has("added"))
    refuse("added", "Enter how much was charged, as the scale showed it");
  if (filled === "topped" && added_g === null && !refusals.has("added"))
    refuse("added", "Enter how much was added, as the scale showed it");
  if (filled === null && added_g !== null) refuse("filled", "Choose how it was charged");
  const note = fields.note.replaceAll("\r\n", "\n").trim();
  const too_long = tooLong(note, MAX_REMARK_CHARS);
  if (too_long !== null) refuse("note", too_long);
  const says_nothing =
    filled === null &&
    repair === null &&
    electronic === null &&
    recovered_g === null &&
    cooling === null &&
    !fields.dye;
  if (says_nothing && refusals.all().length === 0)
    refuse("repair", "Say what was done: a repair, a charge, a test, or how it cooled");
  const refrigerant = readRefrigerantWork(fields, cylinders, record.vehicle.refrigerant);
  const errors = [...refusals.all(), ...(refrigerant.ok ? [] : refrigerant.errors)];
  if (errors.length > 0 || !refrigerant.ok) return { ok: false, errors };

  const finding: FindingInput[] =
    electronic === null
      ? []
      : [{ date, test: "electronic", location: electronic, result: electronic === "anywhere" ? "clean" : "leak" }];
  const entry: ChargeEntryInput = {
    date,
    cooling,
    recovered_g,
    added_g,
    added_by: added_g === null ? null : "scale",
    finish: filled === null ? null : filled === "weighed" ? "weighed" : "unknown",
    repair,
    dye: fields.dye ? "added" : null,
    note: note === "" ? null : note,
  };
  return {
    ok: true,
    input: {
      work: { date, option, follow_up_on: repair === null ? null : followUp(record, entry, today) },
      charge_log: [entry],
      findings: finding,
      refrigerant: (recovered_g ?? 0) > 0 || (added_g ?? 0) > 0 ? refrigerant.input : null,
    },
  };
}

/**
 * The day to check whether the repair held: when one more look will settle it or, if the record is settled from the
 * start, when the old leak would have emptied a full charge to low again.
 */
function followUp(record: VehicleRecord, entry: ChargeEntryInput, today: string): string {
  const { note, dye, ...logged } = entry;
  const request = vehicleRequest(record, today);
  const log = [...(request.log ?? []), logged].toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  const { repair_sure_date } = assess({ ...request, log }, { sensitivity: false }).leak;
  if (repair_sure_date !== null && repair_sure_date > today) return repair_sure_date;
  const { median } = assess(request, { sensitivity: false }).leak.full_charge_lasts_months;
  return monthsAfter(entry.date, Math.min(median, MOST_MONTHS));
}

/** A later day would not be kept. */
const MOST_MONTHS = 60;
