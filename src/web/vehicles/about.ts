import { priceParameters } from "../../../data/parameters.ts";
import { PLACES } from "../../../data/rules.ts";
import type { GaugeStyle } from "../../../views/readings/said-readings.ts";
import type { DateOrder } from "../../core/quantities/parse-when.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import type { Vehicle } from "../../core/question/record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Workspace } from "../../store/workspaces.ts";
import { gaugesOf, placeOf, todayIn, unitsOf } from "../workspace.ts";

/** What forms about a vehicle need. */
export interface About {
  vehicle: Pick<Vehicle, "id" | "refrigerant" | "nameplate_g" | "system_volume_ml" | "electric_compressor">;
  /** The net weight of a can of this vehicle's refrigerant. */
  can_net_g: number;
  units: UnitSystem;
  /** What its money is in, ISO 4217. */
  currency: string;
  /** Units of its readings. */
  gauges: GaugeStyle;
  /** The day where the workspace is. */
  today: string;
  /** How dates in figures are written there; null: it is asked. */
  date_order: DateOrder | null;
}

/** A vehicle with all that its forms need. Throws `Problem` not-found. */
export async function aboutVehicle(
  store: WorkspaceStore,
  vehicle_id: string,
  now: Date,
): Promise<{ vehicle: Vehicle; workspace: Workspace; about: About }> {
  const [vehicle, workspace] = await Promise.all([store.vehicles.get(vehicle_id), store.settings.get()]);
  const usual_can_g = priceParameters.can_net_g.default[vehicle.refrigerant];
  const can_net_g = vehicle.prices.can_net_g ?? workspace.prices.can_net_g ?? usual_can_g;
  return {
    vehicle,
    workspace,
    about: {
      vehicle,
      can_net_g,
      units: unitsOf(workspace),
      currency: workspace.currency,
      gauges: gaugesOf(workspace),
      today: todayIn(workspace, now),
      date_order: PLACES[placeOf(workspace.place)].date_order,
    },
  };
}
