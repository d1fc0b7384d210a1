import * as z from "zod";
import { REASON_CHARS } from "../../store/follow-ups.ts";
import { actor, instant, recordId, text } from "./record-schema.ts";

/** The end of a follow-up, as it is stored and exported. */
export const closedStored = z.strictObject({
  vehicle_id: recordId,
  follow_up: z.string().min(1).max(80),
  outcome: z.enum(["done", "dismissed"]),
  words: text(REASON_CHARS),
  closed_at: instant,
  closed_by: actor,
});
