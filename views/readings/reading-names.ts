import type { ReadingId } from "../../src/core/readings/readings-contract.ts";

/** What to take next, as an order; what it is called in a list; and the field that it goes into. */
export const READING_NAMES: Readonly<Record<ReadingId, { take: string; short: string; field: string }>> = {
  static: {
    take: "Read the static pressure: engine off for an hour, either gauge.",
    short: "static pressure",
    field: "static",
  },
  low: { take: "Read the low side with the engine running.", short: "low side", field: "low" },
  high: { take: "Read the high side with the engine running.", short: "high side", field: "high" },
  vent: { take: "Measure the air at a middle vent.", short: "vent air", field: "vent" },
  clutch: { take: "Watch the compressor's clutch for a minute.", short: "clutch", field: "clutch" },
  fan: { take: "See whether the condenser fan runs.", short: "condenser fan", field: "fan" },
  condenser: { take: "Look at the condenser fins.", short: "condenser fins", field: "condenser" },
  "more-air": {
    take: "Put a second fan in front of the condenser, or read again while driving, and watch the high side.",
    short: "high side with extra airflow",
    field: "more_air",
  },
  "suction-line": {
    take: "Measure the suction line near the low-side port.",
    short: "suction line temperature",
    field: "suction_line",
  },
  "liquid-line": {
    take: "Measure the liquid line where it leaves the condenser.",
    short: "liquid line temperature",
    field: "liquid_line",
  },
  equalizing: {
    take: "Switch off and time how long both gauges take to read the same.",
    short: "time to equal pressures",
    field: "equalizing",
  },
  "sight-glass": { take: "Look into the sight glass, if there is one.", short: "sight glass", field: "sight_glass" },
};
