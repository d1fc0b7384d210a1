import type { Issue } from "../core/problem.ts";
import type { ChargeEntryInput, VehicleInput } from "../core/question/record.ts";

/** What another program sends of a fleet at once, and what it is told of each item. */

/** A vehicle that another program speaks of, and what it says: what is absent stays as it is. */
export interface SentVehicle {
  external_id: string;
  /** The vehicle here, where the program knows it. */
  id: string | null;
  said: Partial<VehicleInput>;
}

/** An event that another program speaks of, with all that it says of it. */
export interface SentEvent {
  external_id: string;
  /** Its vehicle, as the program calls it or as it is called here. */
  vehicle: { external_id: string } | { id: string };
  entry: ChargeEntryInput;
}

/** An item of a call: what can be read of it, or why it cannot. */
export type SentItem<Item> = { item: Item } | { external_id: string; issues: readonly Issue[] };

/** What one program sends at once. */
export interface UpsertCall {
  source: string;
  vehicles: readonly SentItem<SentVehicle>[];
  events: readonly SentItem<SentEvent>[];
}

export const UPSERT_OUTCOMES = ["created", "changed", "same", "refused"] as const;

/** What became of an item. `id` is that of the vehicle or the entry here; null where it was refused. */
export interface UpsertResult {
  external_id: string;
  outcome: (typeof UPSERT_OUTCOMES)[number];
  id: string | null;
  issues: Issue[];
}

/** What became of each item, in the order sent. */
export interface UpsertAnswer {
  vehicles: UpsertResult[];
  events: UpsertResult[];
}

/** What is wrong with an entry of such a vehicle; nothing where it can be stored. */
export type EntryCheck = (
  entry: ChargeEntryInput,
  vehicle: Pick<VehicleInput, "refrigerant" | "nameplate_g">,
) => readonly Issue[];
