import { expectedRegion } from "../../../data/readings-table.ts";
import type { RefrigerantId } from "../question/contract.ts";
import { saturationPressureKpa } from "../refrigerant/refrigerant.ts";
import type { ExpectedRunning } from "./readings-contract.ts";

const { evaporating, condensing_over_ambient: condensing, vent } = expectedRegion;

/**
 * What a well-charged system shows while it runs, at `ambient_c` °C (−30 to 50): evaporating and condensing
 * temperatures from what the heat exchangers can do, pressures from the refrigerant's saturation curve. The ranges are
 * wide on purpose: they hold the printed charts, which contradict each other. At idle the compressor draws the low side
 * down less, so the range begins where the charts for idle do.
 */
export function expectedRunning(
  refrigerant: RefrigerantId,
  ambient_c: number,
  humidity_percent: number | null = null,
  engine_rpm: number | null = null,
): ExpectedRunning {
  const idle_floor_c =
    evaporating.idle_floor_c + evaporating.idle_lifts_per_k * Math.max(0, ambient_c - evaporating.idle_lifts_above_c);
  const evaporating_from_c = isIdle(engine_rpm) ? idle_floor_c : evaporating.floor_c;
  const evaporating_c = {
    from: evaporating_from_c,
    // On a cold day the upper end would fall below the lower one; keep them 4 K apart.
    to: Math.max(idle_floor_c + 4, Math.min(evaporating.ceiling_c, ambient_c - evaporating.under_ambient_k)),
  };
  const condensing_c = {
    from: ambient_c + condensing.from_k,
    to:
      ambient_c +
      Math.min(
        condensing.to_at_most_k,
        condensing.to_k + condensing.to_lifts_per_k * Math.max(0, ambient_c - condensing.to_lifts_above_c),
      ),
  };
  return {
    evaporating_c,
    condensing_c,
    evaporating_lower_end_c:
      engine_rpm !== null && !isIdle(engine_rpm) ? evaporating.floor_c : Math.max(evaporating_from_c, idle_floor_c),
    condensing_lower_end_c:
      ambient_c +
      condensing.lower_end_to_k +
      condensing.lower_end_lifts_per_k * Math.max(0, ambient_c - condensing.lower_end_lifts_above_c),
    low_kpa: {
      from: saturationPressureKpa(refrigerant, evaporating_c.from),
      to: saturationPressureKpa(refrigerant, evaporating_c.to),
    },
    high_kpa: {
      from: saturationPressureKpa(refrigerant, condensing_c.from),
      to: saturationPressureKpa(refrigerant, condensing_c.to),
    },
    vent_below_c: ambient_c - vent.under_ambient_k - furtherInDryAirK(humidity_percent),
  };
}

function isIdle(engine_rpm: number | null): boolean {
  return engine_rpm !== null && engine_rpm < evaporating.idle_below_rpm;
}

function furtherInDryAirK(humidity_percent: number | null): number {
  if (humidity_percent === null) return 0;
  const under_humid = vent.humid_percent - Math.max(vent.dry_percent, humidity_percent);
  return vent.further_per_percent_k * Math.max(0, under_humid);
}
