import { FAILING_SEASON_WORTH } from "./model-constants.ts";
import type { ByRefrigerant, NumberParameter } from "./parameters.ts";
import { priceParameters } from "./parameters.ts";

/**
 * What a season of cooling is worth with a failing compressor, in hours of a shop's labor, so that it can be said in
 * the money of any price book. Working assumption: the general worth at 110 US dollars an hour.
 */
export const SEASON_WORTH_HOURS = FAILING_SEASON_WORTH / 110;

/**
 * Default prices that depend on the vehicle, put into a question that names none of its own: the model's own defaults
 * (`data/parameters.ts`) know no vehicle. Ranges are those of the fields that they fill.
 */
export const vehiclePrices = {
  repair_service: {
    ...priceParameters.repair_service,
    default: { "R-134a": priceParameters.repair_service.default, "R-1234yf": 230, "R-12": 230 } satisfies ByRefrigerant,
    meaning: "A machine for R-1234yf costs more and works slower, and few shops still have one for R-12.",
    source:
      "common practice, no source: a whole recharge at a shop in 2026, R-134a 205–281, R-1234yf 250–500 US dollars",
  },
  electric_compressor: {
    default: 2500,
    min: 0,
    max: priceParameters.repair_service.max,
    unit: "money",
    label: "Price of an electric compressor",
    meaning:
      "Parts and labor for a compressor that high voltage drives (hybrid, electric), in place of a belt-driven one.",
    source: "common practice, no source: two to four times a belt-driven compressor",
  },
} as const satisfies Record<string, NumberParameter>;
