import type { AgedVehicle } from "./row.ts";
import type { PlanTerms } from "./year-plan.ts";

/** A year's plan as it is kept, and its work orders. */

export const ORDER_OPTIONS = ["repair", "dye-test", "electronic-test"] as const;
export type OrderOption = (typeof ORDER_OPTIONS)[number];

export interface FleetPlan {
  year: number;
  terms: Omit<PlanTerms, "year">;
  /** What its money is in, ISO 4217. */
  currency: string;
  version: number;
  created_at: string;
  created_by: string;
  updated_at: string;
  updated_by: string;
}

export interface FleetOrder {
  id: string;
  year: number;
  vehicle_id: string;
  option: OrderOption;
  /** Expected this year. */
  price: number;
  /** `2027-03`. */
  month: string;
  /** Of the vehicle when it was planned. */
  depot: string | null;
  saves: number;
  avoids_kg: number;
  /** Stays when the rest is planned anew. */
  held: boolean;
  /** The year in whose plan it was first; null where that is this one. */
  carried_from: number | null;
  done_on: string | null;
  /** Null: not said. */
  paid: number | null;
  done_by: string | null;
  /** "Always repair" ended with this order. */
  lifted_lock: boolean;
  version: number;
  updated_at: string;
  updated_by: string;
}

/**
 * An order with its vehicle; `vehicle` is as it is now, `archived` once it is put away; `no_entries`: nothing is in its
 * log, so the order rests on what its group or its kind leaks.
 */
export interface OrderOfVehicle extends FleetOrder {
  vehicle: AgedVehicle;
  archived: boolean;
  no_entries: boolean;
}

/** A repair or a test in a vehicle's records. */
export interface RecordedWork {
  vehicle_id: string;
  id: string;
  date: string;
  what: "repair" | "test";
}

/** The months of a year, as orders have them. */
export function monthsOf(year: number): string[] {
  return Array.from({ length: 12 }, (_, month) => `${year}-${String(month + 1).padStart(2, "0")}`);
}

/** Whether an order stays when the rest is planned anew. */
export function stands({ done_on, held }: Pick<FleetOrder, "done_on" | "held">): boolean {
  return done_on !== null || held;
}

/** What an order takes of the year's money: what was paid, or what it is expected to cost. */
export function takes({ paid, price }: Pick<FleetOrder, "paid" | "price">): number {
  return paid ?? price;
}
