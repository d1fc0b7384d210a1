import type { UnitSystem } from "../../src/core/quantities/units.ts";
import type { TopOffPlan } from "../../src/core/top-off-plan.ts";
import { Entry } from "../parts/entry.tsx";
import { type GaugeStyle, saidPressure, saidPressures, saidTemperature } from "../readings/said-readings.ts";
import { saidAtMost } from "./weighed.ts";

interface StepsProps {
  plan: TopOffPlan;
  /** Of masses. */
  units: UnitSystem;
  /** Of temperatures and pressures. */
  gaugeStyle: GaugeStyle;
}

/** The steps in order, each with its caution, and today's expected pressures beside them. */
export function Steps({ plan, units, gaugeStyle }: StepsProps) {
  const values = stepValues(plan, units, gaugeStyle);
  if (plan.steps.length === 0) return null;
  return (
    <>
      {plan.targets !== null && (
        <Entry name="Expected today" note={<p>{saidTemperature(gaugeStyle, plan.targets.ambient_c)} ambient</p>}>
          <dl class="targets">
            <div>
              <dt>Low side, running</dt>
              <dd>{values.get("low")}</dd>
            </div>
            <div>
              <dt>High side, running</dt>
              <dd>{values.get("high")}</dd>
            </div>
            <div>
              <dt>Stop charging at</dt>
              <dd>
                {values.get("low_stop")} low side, {values.get("high_stop")} high side
              </dd>
            </div>
            <div>
              <dt>Vent air</dt>
              <dd>{saidTemperature(gaugeStyle, plan.targets.running.vent_below_c)} or colder</dd>
            </div>
            <div>
              <dt>Engine off, liquid present</dt>
              <dd>{saidPressure(gaugeStyle, plan.targets.static_kpa)}, whatever the amount</dd>
            </div>
          </dl>
        </Entry>
      )}
      <Entry name="Steps">
        <ol class="steps">
          {plan.steps.map(({ does, caution }) => (
            <li>
              <p>{filled(does, values)}</p>
              {caution !== null && <p class="step-caution">{filled(caution, values)}</p>}
            </li>
          ))}
        </ol>
      </Entry>
    </>
  );
}

function stepValues(plan: TopOffPlan, units: UnitSystem, gaugeStyle: GaugeStyle): ReadonlyMap<string, string> {
  const values = new Map([
    ["first", saidAtMost(plan.add_first_g, units)],
    ["total", saidAtMost(plan.add_at_most_g, units)],
    ["part", saidAtMost(plan.part_g, units)],
  ]);
  if (plan.targets !== null) {
    const { stop_kpa, running } = plan.targets;
    const { low_kpa, high_kpa } = running;
    values.set("low", saidPressures(gaugeStyle, low_kpa));
    values.set("high", saidPressures(gaugeStyle, high_kpa));
    values.set("low_stop", saidPressure(gaugeStyle, stop_kpa.low));
    values.set("high_stop", saidPressure(gaugeStyle, stop_kpa.high));
  }
  return values;
}

/** A step's words with the plan's amounts in them. A name that the plan does not know is our mistake. */
function filled(words: string, values: ReadonlyMap<string, string>): string {
  return words.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values.get(name);
    if (value === undefined) throw new RangeError(`No value for {${name}} in a step`);
    return value;
  });
}
