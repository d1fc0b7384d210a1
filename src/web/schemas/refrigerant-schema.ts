import * as z from "zod";
import { CYLINDER_CONDITIONS, MOVE_KINDS } from "../../core/refrigerant/cylinders.ts";
import { REFRIGERANT_LOG_CHARS } from "../../store/refrigerant-log.ts";
import { actor, amount, instant, recordId, text, textOrNone, vehicleStored, version } from "./record-schema.ts";

/**
 * The shapes of cylinders, their moves, and what is said beside entries of charge logs, as they are stored and
 * exported.
 */

const made = { version, created_at: instant, created_by: actor, updated_at: instant, updated_by: actor };

export const cylinderStored = z.strictObject({
  id: recordId,
  name: text(REFRIGERANT_LOG_CHARS.name),
  refrigerant: vehicleStored.shape.refrigerant,
  condition: z.enum(CYLINDER_CONDITIONS),
  most_g: amount.positive().nullable(),
  retired_at: instant.nullable(),
  ...made,
});

export const moveStored = z
  .strictObject({
    id: recordId,
    cylinder_id: recordId,
    kind: z.enum(MOVE_KINDS),
    date: z.iso.date(),
    amount_g: z.number().min(0).max(1_000_000),
    note: textOrNone(REFRIGERANT_LOG_CHARS.note),
    recorded_at: instant,
    recorded_by: actor,
    removed_at: instant.nullable(),
    removed_by: actor.nullable(),
  })
  .refine(({ removed_at, removed_by }) => (removed_at === null) === (removed_by === null), {
    path: ["removed_at"],
    error: "A move that was taken back says when and by whom.",
  });

export const workStored = z.strictObject({
  log_id: recordId,
  vehicle_id: recordId,
  technician: textOrNone(REFRIGERANT_LOG_CHARS.technician),
  certificate: textOrNone(REFRIGERANT_LOG_CHARS.certificate),
  recovered_into: recordId.nullable(),
  charged_from: recordId.nullable(),
  ...made,
});
