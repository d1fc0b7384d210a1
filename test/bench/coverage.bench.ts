/**
 * In how many vehicles of invented fleets the likely range of the leak, which says nine of ten, holds the truth, by how
 * much of a log they have; and what the audit's release is of the true one, in last year and three years earlier:
 *
 *     npm run bench -- coverage, or: node test/bench/coverage.bench.ts [fleets] [vehicles of each] [first seed]
 *
 * Another first seed gives fleets that nobody looked at before.
 */
import { answeredFleet } from "../support/answered-fleet.ts";
import { coverage, released, SLICES } from "../support/coverage.ts";

const AS_OF = "2026-11-29";
const YEARS = [2025, 2022];
const WORLDS = [
  { logged: 1 },
  { logged: 0.9 },
  { logged: 0.75 },
  { logged: 1, lives: "model" },
  { logged: 0.9, lives: "model" },
  { logged: 0.75, lives: "model" },
  { logged: 0.9, lives: "model", outliers: 0.05 },
] as const;

/** The lines of all worlds: `fleets` of them, each of `vehicles`, from the first seed on. */
export function* coverageBench(fleets = 4, vehicles = 300, first_seed = 101): Generator<string> {
  for (const world of WORLDS) {
    yield JSON.stringify(world);
    const answered = Array.from({ length: fleets }, (_, i) =>
      answeredFleet({ vehicles, seed: first_seed + i, as_of: AS_OF, ...world }, true),
    );
    const found = answered.map(coverage);
    for (const slice of SLICES) {
      const sum = (of: "vehicles" | "held" | "below" | "above") => found.reduce((all, one) => all + one[slice][of], 0);
      yield line(slice, sum("vehicles"), sum("held"), sum("below"), sum("above"));
    }
    for (const year of YEARS) {
      const ratios = answered.map((fleet) => {
        const { truth_g, rows } = released(fleet, year);
        return rows.reduce((sum, { lost_g }) => sum + lost_g, 0) / truth_g;
      });
      const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / fleets;
      const sd = Math.sqrt(ratios.reduce((sum, ratio) => sum + (ratio - mean) ** 2, 0) / Math.max(1, fleets - 1));
      yield `  release ${year}: ${mean.toFixed(3)} ± ${(sd / Math.sqrt(fleets)).toFixed(3)} of the true one`;
    }
  }
}

function line(slice: string, vehicles: number, held: number, below: number, above: number): string {
  const share = held / vehicles;
  const percent = (part: number) => (100 * part).toFixed(1).padStart(5);
  return (
    `  ${slice.padEnd(14)} n ${String(vehicles).padStart(5)}` +
    `  held ${percent(share)} ± ${percent(Math.sqrt((share * (1 - share)) / vehicles))}` +
    `  below ${percent(below / vehicles)}  above ${percent(above / vehicles)}`
  );
}

if (import.meta.main) {
  const [fleets, vehicles, first_seed] = process.argv.slice(2).map(Number);
  for (const one of coverageBench(fleets, vehicles, first_seed)) console.log(one);
}
