import { exactMass } from "../../../views/refrigerant/exact-mass.ts";
import type {
  CylinderFields,
  MoveFields,
  RefrigerantWorkFields,
} from "../../../views/refrigerant/refrigerant-fields.ts";
import { parseMass } from "../../core/quantities/parse-mass.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { REFRIGERANTS, type RefrigerantId } from "../../core/question/contract.ts";
import { CYLINDER_CONDITIONS, MOVE_KINDS } from "../../core/refrigerant/cylinders.ts";
import {
  type Cylinder,
  type CylinderInput,
  type MoveInput,
  REFRIGERANT_LOG_CHARS,
  type WorkInput,
} from "../../store/refrigerant-log.ts";
import { type DayContext, type Read, Refusals, readDay, readWords } from "../forms/form-reading.ts";
import { typedFields } from "../forms/posted-form.ts";
import { isEmpty, oneOf } from "../forms/typed-values.ts";

const CYLINDER = ["name", "refrigerant", "condition", "most"] as const;
const MOVE = ["kind", "when", "amount", "move_note"] as const;

type Refuse = (field: string, message: string) => undefined;

/** The fields of a cylinder as a form sent them. */
export function cylinderFields(form: URLSearchParams): CylinderFields {
  return { ...typedFields(form, CYLINDER), retired: form.has("retired") };
}

/** A cylinder, or what has to be corrected. */
export function readCylinder(fields: CylinderFields, system: UnitSystem): Read<CylinderInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const name = wordsIn("name", fields.name, REFRIGERANT_LOG_CHARS.name, refuse);
  if (name === "") refuse("name", "Enter the number on the cylinder, like C-17");
  const refrigerant = oneOf(REFRIGERANTS, fields.refrigerant) ?? refuse("refrigerant", "Choose what is in it");
  const condition =
    oneOf(CYLINDER_CONDITIONS, fields.condition) ?? refuse("condition", "Choose new, reclaimed or recovered");
  const most_g = isEmpty(fields.most) ? null : massIn("most", fields.most, system, refuse);
  if (most_g === 0) refuse("most", "Enter more than nothing, or leave it empty");
  const errors = refusals.inOrder(CYLINDER);
  if (errors.length > 0 || refrigerant === undefined || condition === undefined || most_g === undefined)
    return { ok: false, errors };
  return { ok: true, input: { name, refrigerant, condition, most_g, retired: fields.retired } };
}

/** The fields of a cylinder's move as a form sent them. */
export function moveFields(form: URLSearchParams): MoveFields {
  return typedFields(form, MOVE);
}

export interface MoveContext {
  system: UnitSystem;
  days: DayContext;
  cylinder: Cylinder;
  /** The recorded stock before this move. */
  stock_g: number;
  /** The person has confirmed an amount that does not fit. */
  sure: boolean;
}

/**
 * A move as typed. `asks` is set when its amount does not fit what is known of the cylinder and nobody has confirmed
 * it.
 */
export function readMove(fields: MoveFields, given: MoveContext): Read<MoveInput> & { asks?: boolean } {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const kind = oneOf(MOVE_KINDS, fields.kind) ?? refuse("kind", "Choose what happened");
  const day = readDay(fields.when, given.days);
  const date = "iso" in day ? day.iso : (refuse("when", day.message) ?? given.days.today);
  if (date > given.days.today) refuse("when", "Enter the day on which it was, not one to come");
  const amount_g = massIn("amount", fields.amount, given.system, refuse);
  const note = wordsIn("move_note", fields.move_note, REFRIGERANT_LOG_CHARS.note, refuse);
  if (kind === undefined || amount_g === undefined || refusals.inOrder(MOVE).length > 0)
    return { ok: false, errors: refusals.inOrder(MOVE) };
  const doubt = doubtAbout({ kind, amount_g }, given);
  if (doubt !== null && !given.sure) {
    refuse("amount", doubt);
    return { ok: false, errors: refusals.inOrder(MOVE), asks: true };
  }
  return { ok: true, input: { kind, date, amount_g, note } };
}

/** A message when the amount does not fit the cylinder; null otherwise. */
function doubtAbout({ kind, amount_g }: Pick<MoveInput, "kind" | "amount_g">, given: MoveContext): string | null {
  const { cylinder, stock_g, system } = given;
  const after_g = kind === "weighed" ? amount_g : stock_g + (kind === "received" ? amount_g : -amount_g);
  if (cylinder.most_g !== null && after_g > cylinder.most_g)
    return `That would be ${exactMass(after_g, system)} in a cylinder that may hold ${exactMass(cylinder.most_g, system)}. Check the amount, and its unit`;
  if (after_g < 0)
    return `By the book only ${exactMass(Math.max(0, stock_g), system)} is in it. Check the amount, and its unit`;
  if (kind === "weighed" && Math.abs(amount_g - stock_g) > Math.max(0.1 * stock_g, 500))
    return `By the book it holds ${exactMass(stock_g, system)}. Check the weight of the empty cylinder, and the unit`;
  return null;
}

/** The fields of who worked on refrigerant, and with which cylinders, as a form sent them. */
export function workFields(form: URLSearchParams): RefrigerantWorkFields {
  return typedFields(form, ["technician", "certificate", "recovered_into", "charged_from"]);
}

/** Who did it, and with which of the shop's cylinders of the same refrigerant. */
export function readRefrigerantWork(
  fields: RefrigerantWorkFields,
  cylinders: readonly Cylinder[],
  refrigerant: RefrigerantId,
): Read<WorkInput> {
  const refusals = new Refusals();
  const { refuse } = refusals;
  const words = (field: "technician" | "certificate") =>
    wordsIn(field, fields[field], REFRIGERANT_LOG_CHARS[field], refuse);
  const cylinder = (field: "recovered_into" | "charged_from") => {
    if (fields[field] === "") return null;
    const chosen = cylinders.find(({ id }) => id === fields[field]);
    if (chosen === undefined) return refuse(field, "Choose one of the cylinders, or none") ?? null;
    if (chosen.refrigerant !== refrigerant)
      refuse(field, `Cylinder ${chosen.name} is for ${chosen.refrigerant}, and the vehicle has ${refrigerant}`);
    return chosen.id;
  };
  const input = {
    technician: words("technician"),
    certificate: words("certificate"),
    recovered_into: cylinder("recovered_into"),
    charged_from: cylinder("charged_from"),
  };
  const errors = refusals.inOrder(["technician", "certificate", "recovered_into", "charged_from"]);
  return errors.length > 0 ? { ok: false, errors } : { ok: true, input };
}

function wordsIn(field: string, typed: string, most: number, refuse: Refuse): string {
  const read = readWords(typed, most);
  if ("words" in read) return read.words ?? "";
  refuse(field, read.message);
  return "";
}

function massIn(field: string, typed: string, system: UnitSystem, refuse: Refuse): number | undefined {
  const mass = parseMass(typed, { system });
  return mass.ok ? mass.grams : refuse(field, mass.message);
}
