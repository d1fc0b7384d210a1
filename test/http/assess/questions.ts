import type { AssessRequest } from "../../../src/core/question/contract.ts";
import { TODAY } from "../../support/deps.ts";

export const VEHICLE = { refrigerant: "R-134a", nameplate_g: 650 } as const;

/** Topped off every four months with a can or so, weak each time. */
export const QUESTION: AssessRequest = {
  as_of: TODAY,
  vehicle: VEHICLE,
  log: [
    { date: "2025-05-01", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
    { date: "2025-08-30", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
    { date: "2025-12-30", cooling: "weak", added_g: 273, added_by: "cans", finish: "gauges" },
  ],
};
