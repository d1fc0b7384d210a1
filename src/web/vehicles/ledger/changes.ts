import type { Context } from "hono";
import { vehiclePath } from "../../../../views/vehicles/record/record.ts";
import type { Line } from "../../../core/question/record.ts";
import { Conflict } from "../../../store/errors.ts";
import type { GrantedEnv } from "../../edge/access.ts";
import { unlessOvertaken } from "../../edge/overtaken.ts";
import { formOf, submitKeyOf, versionOf } from "../../forms/posted-form.ts";
import { aboutVehicle } from "../about.ts";
import { savedLine } from "../saved.ts";
import { answerLine, answerNew, type LedgerDesk, linesOf, param } from "./line-page.ts";

// An overtaken change gets 409, with both versions and what was typed, which can then be sent again.

/** POST `/vehicles/:id/…`: a new line. */
export async function addLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
): Promise<Response> {
  const { pages, deps } = desk;
  const form = await formOf(c);
  const fields = pages.fields(form);
  const { vehicle, about } = await aboutVehicle(c.var.store, param(c, "id"), deps.now());
  const read = pages.read(fields, about);
  if (!read.ok) return answerNew(c, desk, { fields, errors: read.errors, submit_key: submitKeyOf(form) });

  const added = await unlessOvertaken(pages.of(c.var.store).add(vehicle.id, read.input, submitKeyOf(form)));
  if (added instanceof Conflict) return answerNew(c, desk, { fields, conflict: added });
  return answerSaved(c, desk, added);
}

/** POST `…/:line/corrections`: the line with other content; the earlier one stays readable. */
export async function correctLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
): Promise<Response> {
  const { pages, deps } = desk;
  const form = await formOf(c);
  const fields = pages.fields(form);
  await linesOf(c, desk);
  const { about } = await aboutVehicle(c.var.store, param(c, "id"), deps.now());
  const read = pages.read(fields, about);
  if (!read.ok) return answerLine(c, desk, { fields, errors: read.errors });

  const [ledger, version] = [pages.of(c.var.store), versionOf(form)];
  const corrected = await unlessOvertaken(ledger.correct(param(c, "line"), version, read.input, submitKeyOf(form)));
  if (corrected instanceof Conflict) return answerLine(c, desk, { fields, conflict: corrected });
  // A correction that says the same is not stored, and must not be offered to be undone.
  if (corrected.version === version && pages.stored === undefined)
    return c.redirect(vehiclePath(corrected.vehicle_id), 303);
  return answerSaved(c, desk, corrected);
}

/** POST `…/:line/removals`: the line no longer counts, but stays readable. */
export function removeLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
): Promise<Response> {
  return changeLine(c, desk, "remove");
}

/** POST `…/:line/undos`: as it was before its last change. */
export function undoLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
): Promise<Response> {
  return changeLine(c, desk, "undo");
}

/** A change of a line that needs nothing but its version. */
async function changeLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
  verb: "remove" | "undo",
): Promise<Response> {
  const form = await formOf(c);
  await linesOf(c, desk);
  const ledger = desk.pages.of(c.var.store);
  const changed = await unlessOvertaken(ledger[verb](param(c, "line"), versionOf(form), submitKeyOf(form)));
  return changed instanceof Conflict ? answerLine(c, desk, { conflict: changed }) : answerSaved(c, desk, changed);
}

function answerSaved<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  { pages }: LedgerDesk<Fields, Content, Input>,
  line: Line<Content>,
): Response {
  return c.redirect(pages.stored?.(line) ?? savedLine(pages.name, line), 303);
}
