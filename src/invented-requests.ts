import { CLIMATES } from "../data/climates.ts";
import { isoFromDay } from "./core/quantities/dates.ts";
import {
  type AssessRequest,
  type Cooling,
  FINISHES,
  type Finish,
  LOCATION_IDS,
  type LogEntry,
  REFRIGERANTS,
} from "./core/question/contract.ts";

/**
 * A random generator that gives the same numbers in every run, with 32 bits of state (Steele, Lea and Flood 2014, the
 * mixing step of SplitMix).
 */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let mixed = Math.imul(state ^ (state >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

const AS_OF = "2026-05-01";
const AS_OF_DAY = 20_574;

/**
 * Invented questions as they may come, the same on every machine: kept 1 to 20 years, 0 to 40 entries, all
 * refrigerants, services and options, with and without a climate, repairs, findings and a carbon price.
 */
export function variedRequests(count = 60): AssessRequest[] {
  const random = seeded(16);
  const below = (most: number): number => Math.floor(random() * most);
  const one = <T>(of: readonly T[]): T => of[below(of.length)]!;
  const sometimes = <T>(chance: number, value: () => T): T | null => (random() < chance ? value() : null);

  const entryOf = (day: number, nameplate_g: number): LogEntry => {
    const cooling = one<Cooling>(["ok", "weak", "weak", "weak", "short-cycling"]);
    const low = cooling !== "ok";
    return {
      date: isoFromDay(day),
      cooling,
      added_g: low ? sometimes(0.8, () => Math.round(nameplate_g * (0.2 + 0.3 * random()))) : null,
      added_by: one(["cans", "scale"]),
      finish: low ? sometimes(0.6, () => one<Finish>(FINISHES)) : null,
      recovered_g: low ? sometimes(0.1, () => Math.round(nameplate_g * (0.3 + 0.3 * random()))) : null,
      repair: low ? sometimes(0.08, () => one(LOCATION_IDS)) : null,
    };
  };

  return Array.from({ length: count }, (): AssessRequest => {
    const nameplate_g = one([450, 550, 650, 800, 1200, 9000]);
    const entries = below(41);
    const spacing = 60 + below(300);
    const climate = sometimes(0.8, () => one(CLIMATES));
    const log = Array.from({ length: entries }, (_, i) =>
      entryOf(AS_OF_DAY - (entries - i) * spacing + below(spacing), nameplate_g),
    ).filter(({ date }) => date >= "1990-01-01");
    return {
      as_of: AS_OF,
      vehicle: { refrigerant: one(REFRIGERANTS), nameplate_g, monthly_mean_c: climate?.monthly_mean_c ?? null },
      log,
      findings:
        sometimes(0.4, () => [
          {
            date: "2026-04-20",
            test: one(["dye", "electronic", "visual"]),
            location: one(LOCATION_IDS),
            result: "leak",
          },
        ]) ?? [],
      plan: {
        keep_years: 1 + below(20),
        floor_months: one([0, 6, 6, 9]),
        service: one(["diy", "shop"]),
        other_trouble: one(["none", "none", "some", "compressor-failing"]),
        season_worth: sometimes(0.5, () => 50 + below(300)),
        carbon_price_per_t: one([0, 0, 0, 190]),
      },
      prices: { can_seal: one(["self-sealing", "pierced"]) },
    };
  });
}
