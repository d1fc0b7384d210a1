import { expect, test } from "vitest";
import { lossInterval, summedAudit } from "../../../src/core/fleet/audit.ts";
import { answeredFleet } from "../../support/answered-fleet.ts";
import { released } from "../../support/coverage.ts";

const AS_OF = "2026-11-29";
const YEAR = 2025;
const FLEETS = 16;
const VEHICLES = 36;

test("the likely range of a fleet's yearly release holds the truth about nine times of ten, more often than independent errors would", () => {
  const held = { together: 0, apart: 0 };
  for (let seed = 1; seed <= FLEETS; seed++) {
    const asked = { vehicles: VEHICLES, seed: 1000 + seed, as_of: AS_OF, logged: 0.9, group_spread: 0.5 };
    const { truth_g, rows } = released(answeredFleet(asked, true), YEAR);
    const holds = (sd_g: number) => {
      const { p05_g, p95_g } = lossInterval(sum.lost_g, sd_g);
      return truth_g >= p05_g && truth_g <= p95_g;
    };
    const sum = summedAudit(rows);
    const apart_sd = Math.hypot(...rows.map(({ lost_sd_g }) => lost_sd_g));
    if (holds(sum.lost_sd_g)) held.together++;
    if (holds(apart_sd)) held.apart++;
  }
  // A binomial share of 0.9 in 16 fleets is 0.75 or more in 98 of 100 cases.
  expect(held.together / FLEETS).toBeGreaterThanOrEqual(0.75);
  // The range of independent errors lies within it, and is too narrow for some of these fleets.
  expect(held.apart / FLEETS).toBeLessThanOrEqual(held.together / FLEETS - 0.1);
}, 120_000);
