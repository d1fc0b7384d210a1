import { CLIMATES } from "../../data/climates.ts";
import { PLACES } from "../../data/rules.ts";
import { fieldOf, type Messages, RadioField, SelectField, TextField } from "../parts/field.tsx";
import { WHERE_CHOICES } from "../rules/where-choices.ts";
import { joined } from "../words/numbers.ts";
import { CLIMATE_CHOICES, type QuickFields, SERVICE_CHOICES, UNIT_CHOICES } from "./quick-fields.ts";

interface MoreExactProps {
  fields: QuickFields;
  messages: Messages;
}

const NAMES = ["climate", "where", "keep", "service"] as const;

/** What has a usual answer: folded away, with what is assumed in one line. */
export function MoreExact({ fields, messages }: MoreExactProps) {
  const of = fieldOf(fields, messages);
  return (
    <section class="ask-part">
      <details class="more-exact" id="more-exact" open={NAMES.some((name) => messages.has(name))}>
        <summary>More exact</summary>
        <div class="fields more-fields">
          <SelectField {...of("climate")} label="Climate" hint="Leaks are faster in heat" choices={CLIMATE_CHOICES} />
          <SelectField
            {...of("where")}
            label="Where the vehicle is"
            hint="Sets which local rules apply"
            choices={WHERE_CHOICES}
          />
          <RadioField {...of("service")} label="Who tops it off?" choices={SERVICE_CHOICES} />
          <label class="choice">
            <input type="checkbox" name="tools" id="tools" value="yes" checked={fields.tools} />I already have a hose,
            gauges and gloves
          </label>
          <TextField {...of("keep")} label="Years you will keep it" short inputmode="decimal" />
          <RadioField
            id="units"
            name="units"
            label="Units"
            hint="Used when you type a number without a unit"
            value={fields.units}
            choices={UNIT_CHOICES}
          />
        </div>
      </details>
      <p class="hint" id="assumed">
        {assumed(fields)}
      </p>
    </section>
  );
}

/** What the answer takes for granted, as it is now. */
function assumed({ climate, where, service, tools, keep, units }: QuickFields): string {
  const climate_name = CLIMATES.find(({ id }) => id === climate)?.name;
  const place = Object.entries(PLACES).find(([id]) => id === where && id !== "elsewhere")?.[1].name;
  const who =
    service === "shop" ? "a shop tops it off" : `you top it off ${tools ? "with your own tools" : "and buy tools"}`;
  return `Assumed: ${[
    climate_name === undefined ? "no seasons" : climate_name.toLowerCase(),
    place === undefined ? "no local rules" : `rules of ${place}`,
    who,
    `kept ${joined(keep.trim() === "1" ? "1 year" : `${keep.trim()} years`)}`,
    units === "us" ? "ounces" : "grams",
  ].join(" · ")}`;
}
