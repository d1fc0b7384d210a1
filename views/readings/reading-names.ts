import type { ReadingId } from "../../src/core/readings/contract.ts";

/** What to take next, as an order, and the field that it goes into. */
export const READING_NAMES: Readonly<Record<ReadingId, { take: string; field: string }>> = {
  static: { take: "Read the static pressure: engine off for an hour, either gauge.", field: "static" },
  low: { take: "Read the low side with the engine running.", field: "low" },
  high: { take: "Read the high side with the engine running.", field: "high" },
  vent: { take: "Measure the air at a middle vent.", field: "vent" },
  clutch: { take: "Watch the compressor's clutch for a minute.", field: "clutch" },
  fan: { take: "See whether the condenser fan runs.", field: "fan" },
  condenser: { take: "Look at the condenser's face.", field: "condenser" },
  "more-air": {
    take: "Put a second fan before the condenser, or read again on the road, and see what the high side does.",
    field: "more_air",
  },
};
