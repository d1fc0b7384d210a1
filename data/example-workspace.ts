import type { Finding, LogEntry, PlanInput, RefrigerantId } from "../src/core/question/contract.ts";
import type { Readings } from "../src/core/readings/readings-contract.ts";

/**
 * Invented vehicles with years of history, to look around in. Days are counted back from the day on which they are
 * loaded, so that they never age. Amounts are grams; 340 g is a 12-oz can.
 */
export interface ExampleVehicle {
  readonly vehicle: {
    readonly label: string;
    readonly refrigerant: RefrigerantId;
    readonly nameplate_g: number;
    readonly climate: string;
    readonly electric_compressor?: boolean;
    readonly fleet_group?: string;
    readonly depot?: string;
    readonly plan: PlanInput;
  };
  /** Oldest first. */
  readonly charge_log: readonly Dated<LogEntry & { dye?: "added"; note?: string }>[];
  readonly findings: readonly Dated<Finding & { note?: string }>[];
  /** kPa absolute, °C. */
  readonly readings?: readonly Dated<ReadAt & { note?: string }>[];
  readonly notes: readonly { readonly body: string }[];
  /** An amount of the log that was first written wrong, and is put right. */
  readonly correction?: { readonly entry: number; readonly added_g: number };
  readonly archived?: boolean;
}

type ReadAt = Omit<Readings, "refrigerant" | "nameplate_g" | "system_volume_ml" | "ambient_c"> & {
  date: string;
  ambient_c: number;
};
type Dated<T> = Omit<T, "date"> & { readonly days_ago: number };

export const EXAMPLE_VEHICLES: readonly ExampleVehicle[] = [
  {
    vehicle: {
      label: "Green hatchback",
      refrigerant: "R-134a",
      nameplate_g: 550,
      climate: "temperate-continental",
      plan: { keep_years: 6, service: "diy", tools_owned: true },
    },
    charge_log: [
      { days_ago: 2260, cooling: "weak", added_g: 340, added_by: "cans", finish: "unknown", note: "First time ever." },
      { days_ago: 1530, cooling: "weak", added_g: 34, added_by: "cans", finish: "low-side" },
      { days_ago: 1500, cooling: "ok" },
      { days_ago: 790, cooling: "weak", added_g: 300, added_by: "cans", finish: "low-side" },
      { days_ago: 425, cooling: "ok" },
      { days_ago: 2, cooling: "weak" },
    ],
    findings: [
      { days_ago: 785, test: "visual", location: "anywhere", result: "clean", note: "All six locations, with a lamp." },
    ],
    readings: [
      {
        days_ago: 2,
        ambient_c: 18,
        static_kpa: 535,
        low_kpa: 180,
        high_kpa: 640,
        vent_c: 14,
        clutch: "cycles-fast",
        note: "After half an hour in the yard.",
      },
    ],
    notes: [{ body: "Lives in the shade of the garage. Only used at weekends since the spring." }],
    correction: { entry: 1, added_g: 340 },
  },
  {
    vehicle: {
      label: "Red pickup",
      refrigerant: "R-134a",
      nameplate_g: 850,
      climate: "hot-desert",
      plan: { keep_years: 8, service: "diy", tools_owned: true },
    },
    charge_log: [
      { days_ago: 1180, cooling: "weak", added_g: 340, added_by: "cans", finish: "unknown" },
      { days_ago: 905, cooling: "weak", added_g: 400, added_by: "cans", finish: "low-side" },
      { days_ago: 690, cooling: "weak", added_g: 340, added_by: "cans", finish: "low-side", dye: "added" },
      {
        days_ago: 540,
        cooling: "weak",
        recovered_g: 410,
        repair: "joint",
        added_g: 850,
        added_by: "scale",
        finish: "weighed",
        note: "O-ring at the condenser inlet. The old one was flat and hard.",
      },
      { days_ago: 320, cooling: "ok" },
      { days_ago: 30, cooling: "ok" },
    ],
    findings: [
      { days_ago: 640, test: "dye", location: "joint", result: "leak", note: "Bright ring below the condenser inlet." },
      { days_ago: 640, test: "dye", location: "hose", result: "clean" },
    ],
    notes: [
      { body: "After the repair: oil wiped off everything, so that a new trace would show." },
      { body: "Looked again a year on: dry." },
    ],
  },
  {
    vehicle: {
      label: "Van 1, city round",
      refrigerant: "R-1234yf",
      nameplate_g: 600,
      climate: "humid-subtropical",
      fleet_group: "Delivery vans",
      depot: "North yard",
      plan: { keep_years: 4, service: "shop" },
    },
    charge_log: [
      { days_ago: 700, cooling: "weak", recovered_g: 330, added_g: 600, added_by: "scale", finish: "weighed" },
      {
        days_ago: 330,
        cooling: "weak",
        recovered_g: 350,
        added_g: 600,
        added_by: "scale",
        finish: "weighed",
        dye: "added",
      },
      { days_ago: 12, cooling: "weak" },
    ],
    findings: [
      { days_ago: 290, test: "dye", location: "hose", result: "clean" },
      {
        days_ago: 290,
        test: "dye",
        location: "condenser",
        result: "leak",
        note: "Lower corner, behind the stone guard.",
      },
    ],
    notes: [{ body: "The driver says it is worst in the afternoon, standing with the engine running." }],
  },
  {
    vehicle: {
      label: "Van 2, city round",
      refrigerant: "R-1234yf",
      nameplate_g: 600,
      climate: "humid-subtropical",
      fleet_group: "Delivery vans",
      depot: "North yard",
      plan: { keep_years: 4, service: "shop" },
    },
    charge_log: [
      { days_ago: 610, cooling: "weak", recovered_g: 345, added_g: 600, added_by: "scale", finish: "weighed" },
      { days_ago: 45, cooling: "ok" },
    ],
    findings: [],
    notes: [],
  },
  {
    vehicle: {
      label: "Van 3, long round",
      refrigerant: "R-1234yf",
      nameplate_g: 600,
      climate: "humid-subtropical",
      fleet_group: "Delivery vans",
      depot: "South yard",
      plan: { keep_years: 2, service: "shop" },
    },
    charge_log: [
      { days_ago: 250, cooling: "weak", recovered_g: 300, added_g: 600, added_by: "scale", finish: "weighed" },
      { days_ago: 118, cooling: "weak", recovered_g: 340, added_g: 600, added_by: "scale", finish: "weighed" },
      { days_ago: 9, cooling: "short-cycling" },
    ],
    findings: [
      { days_ago: 9, test: "electronic", location: "compressor", result: "leak", note: "Sounds at the nose." },
    ],
    notes: [{ body: "Twice in one summer. The workshop is asked for a quote." }],
  },
  {
    vehicle: {
      label: "Old coupe",
      refrigerant: "R-12",
      nameplate_g: 1100,
      climate: "warm-continental",
      plan: { keep_years: 10, service: "shop" },
    },
    charge_log: [
      { days_ago: 3300, cooling: "weak", added_g: 400, added_by: "scale", finish: "gauges" },
      { days_ago: 1450, cooling: "weak", added_g: 450, added_by: "scale", finish: "gauges" },
      { days_ago: 95, cooling: "ok" },
    ],
    findings: [],
    notes: [{ body: "Only driven in summer. Certified shop only: this refrigerant is not sold to everyone." }],
  },
  {
    vehicle: {
      label: "Plug-in wagon",
      refrigerant: "R-134a",
      nameplate_g: 750,
      climate: "temperate-continental",
      electric_compressor: true,
      plan: { keep_years: 5, service: "shop" },
    },
    charge_log: [
      { days_ago: 200, cooling: "weak", recovered_g: 420, added_g: 750, added_by: "scale", finish: "weighed" },
    ],
    findings: [],
    notes: [],
  },
  {
    vehicle: {
      label: "Blue sedan, sold",
      refrigerant: "R-134a",
      nameplate_g: 500,
      climate: "warm-continental",
      plan: { keep_years: 1, service: "diy" },
    },
    charge_log: [
      { days_ago: 1900, cooling: "weak", added_g: 340, added_by: "cans", finish: "unknown" },
      { days_ago: 1210, cooling: "weak", added_g: 340, added_by: "cans", finish: "unknown" },
    ],
    findings: [],
    notes: [{ body: "Sold with half a can and the hose." }],
    archived: true,
  },
];
