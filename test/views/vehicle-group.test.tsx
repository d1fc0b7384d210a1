import { describe, expect, test } from "vitest";
import type { Verdict } from "../../src/core/question/contract.ts";
import { VehicleGroup } from "../../views/vehicles/group.tsx";

const REPAIR: Verdict = { option: "repair", guard: null, tie_break: false, reasons: [] };
const TOO_FAST: Verdict = { ...REPAIR, guard: "floor" };

function said(table: Verdict, recorded: Verdict | null): string {
  const state = { low_now: true, no_entries: false };
  const group = { fleet_group: "Buses", vehicles: 12, as_of: "2026-05-01", own_share: 0.41, verdict: table, ...state };
  return String(VehicleGroup({ group, recorded: recorded === null ? null : { verdict: recorded, ...state } }))
    .replace(/<[^>]+>/g, "")
    .replaceAll("&#39;", "'")
    .replace(/[\s\u00a0]+/g, " ");
}

describe("a vehicle's page beside the fleet's table", () => {
  test("tells how much the group had a say in it, and as of when", () => {
    const text = said(REPAIR, REPAIR);
    expect(text).toContain(
      "uses what 12 vehicles in this group show. 41% of it comes from this vehicle's own log, the rest from the group.",
    );
    expect(text).toContain("On 1 May 2026 the table said: Repair it");
  });

  test("agrees only where both say the same of what is recorded", () => {
    const apart = ". It is older than this page.";
    expect(said(REPAIR, REPAIR)).toContain("Repair it, as this page does.");
    expect(said(TOO_FAST, REPAIR)).toContain(`Repair it, don't top it off${apart}`);
    expect(said(REPAIR, { ...REPAIR, option: "top-off" })).toContain(`Repair it${apart}`);
    // While something else is supposed, the page answers another question.
    const another = said(REPAIR, null);
    expect(another).toContain("Repair it.");
    expect(another).not.toMatch(/older|as this page does/);
  });
});
