import type { ChargeLine, FindingLine, NoteLine, Vehicle } from "../core/question/record.ts";
import type { ReadingsLine } from "../core/readings/record.ts";
import { ERASED, erasedLabel } from "./erasure.ts";
import type { Quote } from "./quote-row.ts";
import type { ShopLists } from "./shop-lists.ts";

/** The parts of a document that name people. */
interface PeopleIn extends Pick<ShopLists, "customers" | "vehicle_particulars" | "fleet_closed_rows"> {
  vehicles: Vehicle[];
  charge_log: ChargeLine[];
  findings: FindingLine[];
  readings: ReadingsLine[];
  notes: NoteLine[];
  quotes: Quote[];
  fleet_names: { source_key: string; vehicle_id: string }[];
}

/**
 * A document without the personal data of people who have been erased here since it was made: their rows, the labels,
 * fleet names, papers and free text of their vehicles, and those of their quotes that are not here. Figures stay.
 */
export function withoutErased<Document extends PeopleIn>(document: Document, ours: Document): Document {
  const gone = new Map(ours.customers.flatMap((one) => (one.erased_at === null ? [] : [[one.id, one] as const])));
  if (gone.size === 0) return document;
  const our_vehicles = new Map(ours.vehicles.map((one) => [one.id, one]));
  const our_papers = new Map(ours.vehicle_particulars.map((one) => [one.vehicle_id, one]));
  const our_quotes = new Set(ours.quotes.map(({ id }) => id));
  const was_theirs = new Set([
    ...document.vehicle_particulars.flatMap(({ vehicle_id, customer_id }) =>
      customer_id !== null && gone.has(customer_id) ? [vehicle_id] : [],
    ),
    ...ours.vehicles.filter(({ id, label }) => label === erasedLabel(id)).map(({ id }) => id),
  ]);
  const quiet = <Kept extends { vehicle_id: string; note?: string | null | undefined }>(lines: readonly Kept[]) =>
    lines.map((line) => (was_theirs.has(line.vehicle_id) && line.note != null ? { ...line, note: null } : line));
  return {
    ...document,
    customers: document.customers.map((one) => gone.get(one.id) ?? one),
    vehicles: document.vehicles.map((one) =>
      was_theirs.has(one.id) ? { ...one, label: our_vehicles.get(one.id)?.label ?? erasedLabel(one.id) } : one,
    ),
    vehicle_particulars: document.vehicle_particulars.map((one) => {
      if (!was_theirs.has(one.vehicle_id)) return one;
      return our_papers.get(one.vehicle_id) ?? { ...one, customer_id: null, plate: "", vin: "" };
    }),
    fleet_closed_rows: document.fleet_closed_rows.map((one) =>
      was_theirs.has(one.vehicle_id) ? { ...one, label: erasedLabel(one.vehicle_id) } : one,
    ),
    charge_log: quiet(document.charge_log),
    findings: quiet(document.findings),
    readings: quiet(document.readings),
    notes: document.notes.map((one) => (was_theirs.has(one.vehicle_id) ? { ...one, body: ERASED } : one)),
    quotes: document.quotes.filter(({ id, content }) => our_quotes.has(id) || !gone.has(content.customer_id ?? "")),
    fleet_names: document.fleet_names.filter(({ vehicle_id }) => !was_theirs.has(vehicle_id)),
  };
}
