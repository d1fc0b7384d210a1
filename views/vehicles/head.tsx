import { CLIMATES } from "../../data/climates.ts";
import { leakPriors } from "../../data/leak-priors.ts";
import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { Vehicle } from "../../src/core/question/record.ts";
import { saidExactMass, saidOdometer } from "../words/numbers.ts";
import { Facts } from "../words/said.tsx";
import { vehiclePath } from "./record/record.ts";

interface HeadProps {
  vehicle: Vehicle;
  units: UnitSystem;
  may_edit: boolean;
}

/** What the vehicle is called, what it is, and where else to go with it. */
export function VehicleHead({ vehicle, units, may_edit }: HeadProps) {
  return (
    <header class="page-head">
      <p class="way-back">
        <a href="/vehicles">Vehicles</a>
      </p>
      <h1 dir="auto">{vehicle.label}</h1>
      <p class="facts">
        <Facts of={facts(vehicle, units)} />
      </p>
      <nav class="vehicle-places" aria-label="This vehicle">
        <ul>
          <li>
            <a href="#charge-log">Charge log</a>
          </li>
          <li>
            <a href="#findings">Test results</a>
          </li>
          <li>
            <a href="#notes">Notes</a>
          </li>
          <li>
            <a href={vehiclePath(vehicle.id, "readings")}>Readings</a>
          </li>
          <li>
            <a href={vehiclePath(vehicle.id, "top-off")}>Top-off plan</a>
          </li>
          <li>
            <a href={vehiclePath(vehicle.id, "quotes")}>Quotes</a>
          </li>
          <li>
            <a href={vehiclePath(vehicle.id, "reminders")}>Reminders</a>
          </li>
          {may_edit && (
            <li>
              <a href={vehiclePath(vehicle.id, "particulars")}>Customer, plate, VIN</a>
            </li>
          )}
          {may_edit && (
            <li>
              <a href={vehiclePath(vehicle.id, "details")}>Edit details</a>
            </li>
          )}
        </ul>
      </nav>
    </header>
  );
}

/** Refrigerant, nameplate charge and whatever else is known, shortest first. */
function facts(vehicle: Vehicle, units: UnitSystem): string[] {
  const { refrigerant, nameplate_g, climate, monthly_mean_c, fleet_group, depot, electric_compressor, kind } = vehicle;
  const { model_year, odometer } = vehicle;
  const climate_name = monthly_mean_c !== null ? "Own climate" : CLIMATES.find(({ id }) => id === climate)?.name;
  return [
    ...(kind === null ? [] : [leakPriors[kind].label]),
    refrigerant,
    `${saidExactMass(nameplate_g, units)} nameplate charge`,
    ...(climate_name === undefined ? [] : [climate_name]),
    ...(electric_compressor ? ["High-voltage compressor"] : []),
    ...(fleet_group === null ? [] : [fleet_group]),
    ...(depot === null ? [] : [depot]),
    ...(model_year === null ? [] : [`Model year ${model_year}`]),
    ...(odometer === null ? [] : [saidOdometer(odometer, units)]),
  ];
}
