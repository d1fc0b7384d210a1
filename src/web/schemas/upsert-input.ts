import type * as z from "zod";
import { Problem } from "../../core/problem.ts";
import { NEW_VEHICLE, type VehicleInput } from "../../core/question/record.ts";
import type { SentEvent, SentItem, SentVehicle, UpsertCall } from "../../store/upsert-shapes.ts";
import { entryOf, odometerIssues, shaped } from "./record-input.ts";
import { EXTERNAL_ID_CHARS, fleetUpsertUnread, MOST_ITEMS, sentEvent, sentVehicle } from "./record-schema.ts";
import { checked } from "./sentences.ts";

/** Issues told of one item: few, so that the answer to a thousand bad ones stays small. */
const MOST_OF_AN_ITEM = 10;

/**
 * Reads what another program sends of its fleet, each item for itself. Throws `Problem` invalid for what is no such
 * call, or too many items at once.
 */
export function readUpsert(body: unknown, today: string): UpsertCall {
  const { source, vehicles, events } = shaped(fleetUpsertUnread, body);
  const sent = { vehicles: vehicles ?? [], events: events ?? [] };
  const count = sent.vehicles.length + sent.events.length;
  if (count > MOST_ITEMS)
    throw new Problem("invalid", `Send at most ${MOST_ITEMS} items at once. These are ${count}.`, [
      { path: "", message: "Send the rest in another call: vehicles first, then their events." },
    ]);
  return {
    source: source.trim(),
    vehicles: sent.vehicles.map((item) => checkedVehicle(readItem(sentVehicle, item, vehicleOf), today)),
    events: sent.events.map((item) => readItem(sentEvent, item, eventOf)),
  };
}

function checkedVehicle(sent: SentItem<SentVehicle>, today: string): SentItem<SentVehicle> {
  if (!("item" in sent)) return sent;
  const { external_id, said } = sent.item;
  const issues = odometerIssues({ odometer: said.odometer ?? null }, today);
  return issues.length === 0 ? sent : { external_id, issues };
}

function readItem<Schema extends z.ZodType, Item>(
  schema: Schema,
  item: unknown,
  take: (given: z.infer<Schema>) => Item,
): SentItem<Item> {
  const read = checked(schema, item);
  if (read.ok) return { item: take(read.value) };
  const said = typeof item === "object" && item !== null && "external_id" in item ? item.external_id : "";
  return {
    external_id: typeof said === "string" ? said.slice(0, EXTERNAL_ID_CHARS) : "",
    issues: read.issues.slice(0, MOST_OF_AN_ITEM),
  };
}

/** What is said of the vehicle; null means the value of a new vehicle. */
function vehicleOf({ external_id, id, ...given }: z.infer<typeof sentVehicle>): SentVehicle {
  const said: Partial<VehicleInput> = Object.fromEntries(
    Object.entries(given).flatMap(([name, value]) => {
      if (value === undefined) return [];
      return [[name, value ?? NEW_VEHICLE[name as keyof typeof NEW_VEHICLE]]];
    }),
  );
  if (said.label !== undefined) said.label = said.label.trim();
  return { external_id, id: id ?? null, said };
}

function eventOf({ external_id, vehicle, vehicle_id, ...given }: z.infer<typeof sentEvent>): SentEvent {
  return {
    external_id,
    vehicle: vehicle_id == null ? { external_id: vehicle ?? "" } : { id: vehicle_id },
    entry: entryOf(given),
  };
}
