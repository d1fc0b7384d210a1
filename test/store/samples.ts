import {
  type ChargeEntryInput,
  type FindingInput,
  NEW_VEHICLE,
  type VehicleInput,
} from "../../src/core/question/record.ts";
import type { ReadingsInput } from "../../src/core/readings/record.ts";

export const VAN: VehicleInput = { ...NEW_VEHICLE, label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 };

/** Everything that can be said about a vehicle. */
export const TRUCK: VehicleInput = {
  label: "Truck 7",
  refrigerant: "R-1234yf",
  nameplate_g: 1234.5,
  system_volume_ml: 3100,
  electric_compressor: true,
  dye_in_own_oil: true,
  kind: "heavy-vehicle",
  climate: "hot-desert",
  monthly_mean_c: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, -12.5],
  fleet_group: "Box trucks",
  depot: "North yard",
  model_year: 2019,
  odometer: { km: 135506.7648, on: "2026-04-02" },
  plan: { keep_years: 3, tools_owned: true, barred: ["top-off"] },
  prices: { can_price: 14.5, locations: { hose: { price: 410 } } },
  assumptions: { heel: 0.05 },
};

export const CAN: ChargeEntryInput = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" };
export const DYE_CLEAN: FindingInput = { date: "2026-04-25", test: "dye", location: "anywhere", result: "clean" };

/** Everything that can be read. */
export const READ_LOW: ReadingsInput = {
  date: "2026-04-28",
  ambient_c: 29.5,
  humidity_percent: 40,
  altitude_m: 1600,
  static_kpa: 760.5,
  low_kpa: 204.7,
  high_kpa: 928.7,
  engine_rpm: 800,
  vent_c: 22.5,
  clutch: "cycles-fast",
  fan: "runs",
  condenser: "clean",
  more_air: "stays",
  suction_line_c: 14.5,
  liquid_line_c: 38,
  equalizing_s: 150,
  sight_glass: "bubbles",
  metering: "valve",
  compressor: "variable",
  note: "after a long drive",
};

/** Right to left, above the basic plane, combining, and long. */
export const HARD_TEXTS = [
  "שלום עולם",
  "مكيف الهواء",
  "👩🏽‍🔧 fixed it 🇩🇪",
  "e\u0301té",
  "'; DROP TABLE notes; --",
  "a\nb\tc",
];
