import type { FindingFields } from "../../../views/vehicles/record/finding-fields.ts";
import { formatDate } from "../../core/quantities/dates.ts";
import { LOCATION_IDS, TESTS } from "../../core/question/contract.ts";
import { type FindingInput, type FoundLeak, MAX_REMARK_CHARS } from "../../core/question/record.ts";
import { type Read, Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";
import type { About } from "./about.ts";

const FIELDS = ["when", "test", "location", "result", "note"] as const;

/** A finding that may begin with what an address brings along, `?test=dye`. */
export function blankFinding(query: URLSearchParams, { today }: About): FindingFields {
  return { ...findingFieldsOf(query), when: query.get("when") ?? formatDate(today) };
}

/** The fields of a form, each as it was typed. */
export function findingFieldsOf(form: URLSearchParams): FindingFields {
  return typedFields(form, FIELDS);
}

/** A stored finding as its form shows it. */
export function typedFinding({ date, test, location, result, note }: FoundLeak): FindingFields {
  return { when: formatDate(date), test, location, result, note: note ?? "" };
}

/** Reads a finding. Looking everywhere and seeing nothing is clean, whatever the other question says. */
export function readFindingForm(fields: FindingFields, about: About): Read<FindingInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const when = readDay(fields.when, about);
  if ("message" in when) refuse("when", when.message);
  const test = oneOf(TESTS, fields.test) ?? refuse("test", "Choose the test");
  const location =
    oneOf([...LOCATION_IDS, "anywhere"], fields.location) ??
    refuse("location", "Choose the place, or that everywhere was looked at");
  const result =
    location === "anywhere" && fields.result !== "leak" ? "clean" : oneOf(["leak", "clean"], fields.result);
  if (result === undefined) refuse("result", "Choose what was seen there");
  if (location === "anywhere" && result === "leak") refuse("location", "Choose the place where the leak was seen");
  const note = readWords(fields.note, MAX_REMARK_CHARS);
  if ("message" in note) refuse("note", note.message);

  const errors = refusals.inOrder(FIELDS);
  if (errors.length > 0 || "message" in when || "message" in note || !test || !location || !result)
    return { ok: false, errors };
  return { ok: true, input: { date: when.iso, test, location, result, note: note.words } };
}
