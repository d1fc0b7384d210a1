import type { LineHead } from "../../../src/core/question/record.ts";
import type { Clutch } from "../../../src/core/readings/readings-contract.ts";
import type { ReadingsLine } from "../../../src/core/readings/record.ts";
import { atmosphereKpa } from "../../../src/core/refrigerant/atmosphere.ts";
import { type GaugeStyle, saidPressure, saidTemperature } from "../../readings/said-readings.ts";

const CLUTCH: Readonly<Record<Clutch, string>> = {
  steady: "clutch steady",
  "cycles-slowly": "clutch on and off slowly",
  "cycles-fast": "clutch on and off every few seconds",
  off: "clutch off",
};

/** What was read, in short: `85 °F; static 98 psi, low 15 psi, high 120 psi; vent 70 °F; fan runs`. */
export function saidSet(line: Omit<ReadingsLine, keyof LineHead>, at: GaugeStyle): string {
  const gaugeStyle = { ...at, atmosphere_kpa: atmosphereKpa(line.altitude_m ?? 0) };
  const { humidity_percent, static_kpa, low_kpa, high_kpa, engine_rpm, vent_c, clutch, fan, condenser, more_air } =
    line;
  const { suction_line_c, liquid_line_c, equalizing_s, sight_glass } = line;
  const pressures = [
    static_kpa == null ? null : `static ${saidPressure(gaugeStyle, static_kpa)}`,
    low_kpa == null ? null : `low ${saidPressure(gaugeStyle, low_kpa)}`,
    high_kpa == null ? null : `high ${saidPressure(gaugeStyle, high_kpa)}`,
  ].filter((said) => said !== null);
  return [
    saidTemperature(gaugeStyle, line.ambient_c) +
      (humidity_percent == null ? "" : ` at ${Math.round(humidity_percent)} %`),
    pressures.length === 0 ? null : pressures.join(", "),
    vent_c == null ? null : `vent ${saidTemperature(gaugeStyle, vent_c)}`,
    engine_rpm == null ? null : `${Math.round(engine_rpm)} rpm`,
    clutch == null ? null : CLUTCH[clutch],
    fan == null ? null : fan === "runs" ? "fan runs" : "fan stopped",
    condenser == null ? null : `condenser ${condenser}`,
    more_air == null ? null : `high side ${more_air} with extra airflow`,
    suction_line_c == null ? null : `suction line ${saidTemperature(gaugeStyle, suction_line_c)}`,
    liquid_line_c == null ? null : `liquid line ${saidTemperature(gaugeStyle, liquid_line_c)}`,
    equalizing_s == null ? null : `equal after ${Math.round(equalizing_s)} s`,
    sight_glass == null ? null : `sight glass ${sight_glass === "bubbles" ? "with bubbles" : "clear"}`,
  ]
    .filter((said) => said !== null)
    .join("; ");
}
