import { requestBounds } from "../../../data/parameters.ts";
import type { EntryFields } from "../../../views/vehicles/entry-fields.ts";
import { ADDED_BY, COOLING, FINISHES, LOCATION_IDS } from "../../core/contract.ts";
import { formatDate } from "../../core/format.ts";
import { parseMass } from "../../core/parse-mass.ts";
import { typedMass } from "../../core/typed-mass.ts";
import { type ChargeEntry, type ChargeEntryInput, DYE, MAX_REMARK_CHARS } from "../../store/charge-log.ts";
import { isEmpty, oneOf } from "../typed-values.ts";
import type { About } from "./about.ts";
import { type Read, Refusals, readDay, readWords } from "./form-reading.ts";

const FIELDS = ["when", "cooling", "recovered", "repair", "added", "added_by", "finish", "dye", "note"] as const;

const CHOOSE = {
  cooling: "Choose how it cooled, or leave it not known",
  repair: "Choose where it was repaired, or none",
  added_by: "Choose what it was measured by",
  finish: "Choose how it was judged how full it is",
  dye: "Say whether dye went in",
} as const;
const NOTHING = "Say how it cooled, or what was done";
const TOO_MUCH = "That is more than three nameplate charges. Check the amount, and the nameplate charge";

/** An entry that may begin with what an address brings along, `?added=12+oz&finish=low-side`. */
export function blankEntry(query: URLSearchParams, { today }: About): EntryFields {
  return { ...entryFieldsOf(query), when: query.get("when") ?? formatDate(today) };
}

/** The fields of a form, each as it was typed. */
export function entryFieldsOf(form: URLSearchParams): EntryFields {
  const typed = Object.fromEntries(FIELDS.map((name) => [name, form.get(name) ?? ""])) as unknown as EntryFields;
  return { ...typed, added_by: typed.added_by || "cans" };
}

/** A stored entry as its form shows it. */
export function typedEntry(entry: ChargeEntry, { units }: About): EntryFields {
  const mass = (grams: number | null) => (grams === null ? "" : typedMass(grams, units));
  return {
    when: formatDate(entry.date),
    cooling: entry.cooling ?? "",
    recovered: mass(entry.recovered_g),
    repair: entry.repair ?? "",
    added: mass(entry.added_g),
    added_by: entry.added_by ?? "cans",
    finish: entry.finish ?? "",
    dye: entry.dye ?? "",
    note: entry.note ?? "",
  };
}

/** Reads an entry. Of cans, one holds what the vehicle's prices say. */
export function readEntry(fields: EntryFields, about: About): Read<ChargeEntryInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const when = readDay(fields.when, about.today);
  if ("message" in when) refuse("when", when.message);
  const amount = (field: "recovered" | "added") => {
    const read = readAmount(fields[field], about);
    return typeof read === "string" ? refuse(field, read) : read;
  };
  const chosen = <const T extends string>(field: keyof typeof CHOOSE, choices: readonly T[]) =>
    fields[field] === "" ? null : (oneOf(choices, fields[field]) ?? refuse(field, CHOOSE[field]));

  const recovered_g = amount("recovered");
  const added_g = amount("added");
  const added_by = chosen("added_by", ADDED_BY);
  const [cooling, finish] = [chosen("cooling", COOLING), chosen("finish", FINISHES)];
  const [repair, dye] = [chosen("repair", LOCATION_IDS), chosen("dye", DYE)];
  const note = readWords(fields.note, MAX_REMARK_CHARS);
  if ("message" in note) refuse("note", note.message);
  if ([cooling, recovered_g, added_g, finish, repair, dye].every((said) => said === null)) refuse("cooling", NOTHING);

  const errors = refusals.inOrder(FIELDS);
  if (errors.length > 0 || "message" in when || "message" in note) return { ok: false, errors };
  const input = {
    date: when.iso,
    cooling,
    recovered_g,
    added_g,
    // What was not added was not measured.
    added_by: added_g === null ? null : added_by,
    finish,
    repair,
    dye: dye ?? null,
    note: note.words,
  };
  return { ok: true, input };
}

/** Grams, null where nothing was typed, or what would be right. */
function readAmount(typed: string, { units, vehicle, can_net_g }: About): number | null | string {
  if (isEmpty(typed)) return null;
  const mass = parseMass(typed, { system: units, can_net_g });
  if (!mass.ok) return mass.message;
  return mass.grams > requestBounds.log.amount_nameplates * vehicle.nameplate_g ? TOO_MUCH : mass.grams;
}
