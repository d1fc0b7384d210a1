import type { BudgetAim } from "../../src/core/fleet/budget.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { choicesOf, fieldOf, messagesOf, RadioField, SelectField, TextField } from "../parts/field.tsx";

/** What a year's plan is asked for, as typed. */
export interface PlanFields {
  budget: string;
  aim: BudgetAim;
  year: number;
  /** Jobs or hours that the shop has time for in a month. */
  shop: string;
  per: "jobs" | "hours";
  repair_hours: string;
  test_hours: string;
  depots: readonly { depot: string; money: string; work: string }[];
}

interface PlanFormProps {
  fields: PlanFields;
  this_year: number;
  errors: readonly FieldError[];
}

/** Money, aim, year; the shop's time and the depots' own money are folded. */
export function PlanForm(props: PlanFormProps) {
  const { fields, this_year, errors } = props;
  const of = fieldOf(fields, messagesOf(errors));
  const shop_said =
    [fields.shop, ...fields.depots.flatMap(({ money, work }) => [money, work])].some((typed) => typed.trim() !== "") ||
    errors.some(({ field }) => field !== "budget");
  return (
    <form class="fleet-ask" method="get" action="/fleet/budget">
      <TextField {...of("budget")} label="Money for repairs" hint="Like 25000 or 25k" inputmode="decimal" short />
      <SelectField
        id="year"
        name="year"
        label="Year"
        value={String(fields.year)}
        choices={[this_year, this_year + 1].map((one) => ({ value: String(one), label: String(one) }))}
      />
      <RadioField
        {...of("aim")}
        label="Choose for"
        choices={choicesOf({ cost: "least cost", co2e: "least release" })}
      />
      <button type="submit" class="button">
        Plan it
      </button>
      <details class="fleet-shop" open={shop_said}>
        <summary>Shop time and depots</summary>
        <ShopTime {...props} />
        {fields.depots.length > 0 && <Depots {...props} />}
      </details>
    </form>
  );
}

/** What the shop has time for, and what a repair and a test take of it. */
function ShopTime({ fields, errors }: PlanFormProps) {
  const of = fieldOf(fields, messagesOf(errors));
  return (
    <div class="fleet-terms">
      <TextField {...of("shop")} label="The shop can do, a month" hint="Empty: everything" inputmode="decimal" short />
      <RadioField {...of("per")} label="Counted in" choices={choicesOf({ jobs: "jobs", hours: "hours" })} />
      <TextField {...of("repair_hours")} label="Hours of a repair" inputmode="decimal" short />
      <TextField
        {...of("test_hours")}
        label="Hours of a leak test"
        hint="Room for the repair is added"
        inputmode="decimal"
        short
      />
    </div>
  );
}

/** Money and time that a depot has for itself. */
function Depots({ fields: { depots, per }, errors }: PlanFormProps) {
  const messages = messagesOf(errors);
  return (
    <>
      <p>A depot with money of its own is planned by itself. The others share the rest.</p>
      <div class="fleet-terms">
        {depots.flatMap((one) => {
          const of = fieldOf(one, messages, (name) => `${name}.${one.depot}`);
          return [
            <TextField {...of("money")} label={`${one.depot}: money`} inputmode="decimal" short />,
            <TextField {...of("work")} label={`${one.depot}: ${per} a month`} inputmode="decimal" short />,
          ];
        })}
      </div>
    </>
  );
}
