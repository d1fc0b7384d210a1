import * as z from "zod";
import { LANGUAGES } from "../../../data/customer-words.ts";
import { CUSTOMER_CHARS, PARTICULARS_CHARS } from "../../store/customers.ts";
import { actor, instant, recordId, text, textOrNone, version } from "./record-schema.ts";

/** The shapes of customers and of vehicles as papers name them, as they are stored and exported. */

const made = { version, created_at: instant, created_by: actor, updated_at: instant, updated_by: actor };

export const customerStored = z.strictObject({
  id: recordId,
  name: text(CUSTOMER_CHARS.name),
  phone: textOrNone(CUSTOMER_CHARS.phone),
  email: textOrNone(CUSTOMER_CHARS.email),
  address: textOrNone(CUSTOMER_CHARS.address),
  note: textOrNone(CUSTOMER_CHARS.note),
  language: z.enum(["", ...LANGUAGES]).default(""),
  erased_at: instant.nullable(),
  ...made,
});

export const particularsStored = z.strictObject({
  vehicle_id: recordId,
  customer_id: recordId.nullable(),
  words: textOrNone(PARTICULARS_CHARS.words),
  plate: textOrNone(PARTICULARS_CHARS.plate),
  vin: z.string().regex(/^(?:[A-HJ-NPR-Z0-9]{17})?$/, { error: "Give a VIN of 17 characters, or none." }),
  odometer: textOrNone(PARTICULARS_CHARS.odometer),
  ...made,
});
