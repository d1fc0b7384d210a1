import * as z from "zod";
import { CLIMATES } from "../../../data/climates.ts";
import { PLACES } from "../../../data/rules.ts";
import { TERM_SCOPES } from "../../core/fleet/terms.ts";
import { SERVICES } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS } from "../../core/question/record.ts";
import { EXTERNAL_KINDS, IMPORTED_KINDS } from "../../store/fleet-lists.ts";
import { actor, currencyCode, instant, keepYears, recordId, text, version } from "./record-schema.ts";

/** What was said of a fleet and where its records came from, as it is exported. */

const amount = z.number().min(0).max(1e9).nullish();
const object = z.record(z.string(), z.unknown());
const HEADER_CHARS = 20_000;

export const termsStored = z.strictObject({
  scope: z.enum(TERM_SCOPES),
  name: z.string().max(MAX_LABEL_CHARS),
  terms: z.strictObject({
    service: z.enum(SERVICES).nullish(),
    keep_years: keepYears.nullish(),
    climate: z.enum(CLIMATES.map(({ id }) => id)).nullish(),
    place: z.enum(Object.keys(PLACES)).nullish(),
    topoff_fee: amount,
    refrigerant_per_g: amount,
    repair_service: amount,
    locate_fee: amount,
    topoff_hours_lost: amount,
    repair_hours_lost: amount,
    hour_lost: amount,
    currency: currencyCode.nullish(),
  }),
  version,
  updated_at: instant,
  updated_by: actor,
});

export const loggedStored = z.strictObject({
  vehicle_id: recordId,
  from_date: z.iso.date().nullable(),
  until_date: z.iso.date(),
  missed: z.number().min(0).max(0.5),
});

export const externalIdStored = z.strictObject({
  source: text(60),
  kind: z.enum(EXTERNAL_KINDS),
  external_id: text(MAX_LABEL_CHARS),
  subject_id: recordId,
  vehicle_id: recordId,
  sent_hash: z.string().regex(/^[0-9a-f]{64}$/),
});

export const importStored = z.strictObject({
  id: recordId,
  files: z.array(z.strictObject({ name: z.string() })),
  answers: z.array(z.unknown()),
  report: object,
  created_at: instant,
  created_by: actor,
  taken_at: instant,
  taken_by: actor,
  undone_at: instant.nullable(),
  undone_by: actor.nullable(),
  undone: z.record(z.string(), z.number()).nullable(),
});

export const importRowStored = z.strictObject({
  import_id: recordId,
  kind: z.enum(IMPORTED_KINDS),
  subject_id: recordId,
  vehicle_id: recordId,
  version,
  before: object.nullable(),
});

export const entryOrderStored = z.strictObject({
  entry_id: recordId,
  vehicle_id: recordId,
  order_key: text(HEADER_CHARS),
});

export const mappingStored = z.strictObject({ headers: text(HEADER_CHARS), answers: object, used_at: instant });
