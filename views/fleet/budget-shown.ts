import type { FleetRow, FleetVehicle, RepairLock } from "../../src/core/fleet/row.ts";
import type { ScopedTerms } from "../../src/core/fleet/terms.ts";
import type { PlanTerms, WorkOrder, YearPlan } from "../../src/core/fleet/year-plan.ts";
import type { AssetUrl } from "../assets.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import type { Settling } from "./order-table.tsx";
import type { PlanFields } from "./plan-form.tsx";
import type { MoneyAndUnits } from "./shown.ts";

/** What the page of a year's repair money shows. */
export interface BudgetPageProps {
  /** As typed, and as an address has it. */
  fields: PlanFields;
  query: URLSearchParams;
  this_year: number;
  errors: readonly FieldError[];
  /** Null until money is said that can be read. */
  terms: PlanTerms | null;
  year: YearPlan | null;
  /** The work orders on this page. */
  orders: readonly WorkOrder[];
  page: number;
  pages: number;
  /** Names of vehicles by id. */
  labels: ReadonlyMap<string, string>;
  locked: readonly { vehicle: FleetVehicle; lock: RepairLock }[];
  /** A search for vehicles whose repair is to be settled, and its results. */
  search: string;
  found: readonly { vehicle: FleetRow; lock: RepairLock | null }[];
  reckoned: number;
  /** Address of this page with another page of orders. */
  address: (page: number) => string;
  csv: string;
  fleet_terms: readonly ScopedTerms[];
  /** Version of the plan that is saved for this year; null: none is. */
  kept_version: number | null;
  submit_key: string;
  manner: MoneyAndUnits;
  may_edit: boolean;
  asset: AssetUrl;
}

/** The same once there is a plan. */
export type Planned = BudgetPageProps & { year: YearPlan; terms: PlanTerms };

/** Whether the page shows a plan, and not only its form. */
export function isPlanned(props: BudgetPageProps): props is Planned {
  return props.year !== null && props.terms !== null;
}

/** What the forms that settle a repair need. */
export function settlingOf({ address, page, fields, may_edit }: BudgetPageProps): Settling {
  return { back: address(page), year: fields.year, may_edit };
}
