import { requestBounds } from "../../data/parameters.ts";
import { dayNumber, isoFromDay } from "../../src/core/quantities/dates.ts";
import type { LogEntry, RefrigerantId } from "../../src/core/question/contract.ts";
import { normalRandom, seededRandom } from "./random.ts";

/** An invented vehicle with the log of a life lived under the model's own assumptions, and the truth behind it. */
export interface InventedVehicle {
  label: string;
  fleet_group: string;
  depot: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  log: LogEntry[];
  /** True relative leak rate at `as_of`, per year. */
  x: number;
}

export interface InventedGroup {
  name: string;
  refrigerant: RefrigerantId;
  nameplate_g: number;
  /** Median leak, of the charge a year, and spread of its logarithm. */
  x_median: number;
  ln_x_sd: number;
}

/** Invented groups; no vehicle of any maker. */
const INVENTED_GROUPS: readonly InventedGroup[] = [
  { name: "Small vans", refrigerant: "R-134a", nameplate_g: 520, x_median: 0.08, ln_x_sd: 0.5 },
  { name: "Large vans", refrigerant: "R-134a", nameplate_g: 850, x_median: 0.15, ln_x_sd: 0.6 },
  { name: "Pool cars", refrigerant: "R-1234yf", nameplate_g: 480, x_median: 0.1, ln_x_sd: 0.4 },
  { name: "Box trucks", refrigerant: "R-134a", nameplate_g: 1100, x_median: 0.25, ln_x_sd: 0.7 },
  { name: "Shuttle buses", refrigerant: "R-134a", nameplate_g: 7200, x_median: 0.35, ln_x_sd: 0.5 },
  { name: "Tractors", refrigerant: "R-134a", nameplate_g: 1500, x_median: 0.2, ln_x_sd: 0.8 },
];

const DEPOTS = ["North yard", "South yard", "Harbor", "Airport", "Old mill"];
const DAY = 1 / 365.25;

export interface FleetOptions {
  vehicles: number;
  /** Entries in each log. */
  entries: number;
  seed: number;
  as_of: string;
  groups?: readonly InventedGroup[];
}

/**
 * A fleet from a seed. Each vehicle starts fully charged some years back and leaks; when it cools weakly it is topped
 * off at a shop, by scale, judged by gauges. Looks in between fill the log up.
 */
export function inventedFleet({
  vehicles,
  entries,
  seed,
  as_of,
  groups = INVENTED_GROUPS,
}: FleetOptions): InventedVehicle[] {
  const random = seededRandom(seed);
  const normal = normalRandom(random);
  const today = dayNumber(as_of);
  return Array.from({ length: vehicles }, (_, v) => {
    const group = groups[v % groups.length]!;
    const x = group.x_median * Math.exp(group.ln_x_sd * normal());
    return {
      label: `${group.name} ${String(1 + Math.floor(v / groups.length)).padStart(4, "0")}`,
      fleet_group: group.name,
      depot: DEPOTS[Math.floor(random() * DEPOTS.length)]!,
      refrigerant: group.refrigerant,
      nameplate_g: group.nameplate_g,
      log: entries === 0 ? [] : lived(group.nameplate_g, x, entries, today, random, normal),
      x,
    };
  });
}

/** The log of one vehicle: days before today counted in years, grams. */
function lived(
  nameplate_g: number,
  x: number,
  entries: number,
  today: number,
  random: () => number,
  normal: () => number,
): LogEntry[] {
  const growth = 0.05 + 0.15 * normal();
  const low_g = Math.min(0.85, Math.max(0.3, 0.6 + 0.1 * normal())) * nameplate_g;
  const first_t = -(2 + 5 * random());
  const leaked = (from: number, to: number): number =>
    x * nameplate_g * integralExp(growth, from, to) * (1 + 0.15 * normal() * Math.sqrt(to - from));
  const fills: LogEntry[] = [{ date: isoFromDay(today + Math.round(first_t / DAY)), finish: "weighed" }];
  const looks: LogEntry[] = [];
  let charge_g = nameplate_g * (1 + 0.02 * normal());
  // Looked at every few weeks; weak cooling is noticed then.
  const step = 0.05 + 0.05 * random();
  for (let t = first_t + step; t < -0.02; t += step) {
    charge_g = Math.max(0, charge_g - leaked(t - step, t));
    const date = isoFromDay(today + Math.round(t / DAY));
    if (charge_g >= low_g) {
      looks.push({ date, cooling: "ok" });
    } else if (fills.length < entries) {
      const target_g = nameplate_g * (1 + 0.07 * normal());
      const into_g = Math.max(0, target_g - charge_g);
      const added_g = Math.min(
        requestBounds.log.amount_nameplates * nameplate_g,
        Math.max(1, Math.round(into_g + 10 * normal())),
      );
      fills.push({
        date,
        cooling: charge_g < 0.1 * nameplate_g ? "empty" : "weak",
        added_g,
        added_by: "scale",
        finish: "gauges",
      });
      charge_g += into_g;
    }
  }
  // The latest fills are kept, and looks spread over the years fill the log up.
  const missing = Math.max(0, entries - fills.length);
  const kept = looks.filter(
    (_, i) =>
      missing > 0 && Math.floor((i * missing) / looks.length) !== Math.floor(((i - 1) * missing) / looks.length),
  );
  return [...fills, ...kept.slice(0, missing)].toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

/** ∫ from a to b, both at most 0, of e^{g·u} du. */
function integralExp(g: number, a: number, b: number): number {
  return Math.abs(g) < 1e-9 ? b - a : (Math.exp(g * b) - Math.exp(g * a)) / g;
}
