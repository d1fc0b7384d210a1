import type { VehicleOnPaper } from "../../src/core/quotes/quote-document.ts";

/** A vehicle of a customer; `label` is the shop's own name for it. */
export interface OwnedVehicle extends VehicleOnPaper {
  id: string;
  label: string;
}

/** A customer in a list. */
export interface CustomerSummary {
  id: string;
  name: string;
  phone: string;
  email: string;
  vehicles: readonly OwnedVehicle[];
}
