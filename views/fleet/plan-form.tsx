import type { BudgetAim } from "../../src/core/fleet/budget.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, RadioField, SelectField, TextField } from "../parts/field.tsx";

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
export function PlanForm({ fields, this_year, errors }: PlanFormProps) {
  const messages = messagesOf(errors);
  const { budget, aim, year, shop, per, depots } = fields;
  const shop_said =
    [shop, ...depots.flatMap(({ money, work }) => [money, work])].some((typed) => typed.trim() !== "") ||
    errors.some(({ field }) => field !== "budget");
  return (
    <form class="fleet-ask" method="get" action="/fleet/budget">
      <TextField
        id="budget"
        name="budget"
        label="Money for repairs"
        hint="Like 25000 or 25k"
        error={messages.get("budget")}
        value={budget}
        inputmode="decimal"
        short
      />
      <SelectField
        id="year"
        name="year"
        label="Year"
        value={String(year)}
        choices={[this_year, this_year + 1].map((one) => ({ value: String(one), label: String(one) }))}
      />
      <RadioField
        id="aim"
        name="aim"
        label="Choose for"
        value={aim}
        choices={[
          { value: "cost", label: "least cost" },
          { value: "co2e", label: "least release" },
        ]}
      />
      <button type="submit" class="button">
        Plan it
      </button>
      <details class="fleet-shop" open={shop_said}>
        <summary>Shop time and depots</summary>
        <div class="fleet-terms">
          <TextField
            id="shop"
            name="shop"
            label="The shop can do, a month"
            hint="Empty: everything"
            error={messages.get("shop")}
            value={shop}
            inputmode="decimal"
            short
          />
          <RadioField
            id="per"
            name="per"
            label="Counted in"
            value={per}
            choices={[
              { value: "jobs", label: "jobs" },
              { value: "hours", label: "hours" },
            ]}
          />
          <TextField
            id="repair_hours"
            name="repair_hours"
            label="Hours of a repair"
            error={messages.get("repair_hours")}
            value={fields.repair_hours}
            inputmode="decimal"
            short
          />
          <TextField
            id="test_hours"
            name="test_hours"
            label="Hours of a leak test"
            hint="Room for the repair is added"
            error={messages.get("test_hours")}
            value={fields.test_hours}
            inputmode="decimal"
            short
          />
        </div>
        {depots.length > 0 && (
          <>
            <p>A depot with money of its own is planned by itself. The others share the rest.</p>
            <div class="fleet-terms">
              {depots.flatMap(({ depot, money, work }) => [
                <TextField
                  id={`money.${depot}`}
                  name={`money.${depot}`}
                  label={`${depot}: money`}
                  error={messages.get(`money.${depot}`)}
                  value={money}
                  inputmode="decimal"
                  short
                />,
                <TextField
                  id={`work.${depot}`}
                  name={`work.${depot}`}
                  label={`${depot}: ${per} a month`}
                  error={messages.get(`work.${depot}`)}
                  value={work}
                  inputmode="decimal"
                  short
                />,
              ])}
            </div>
          </>
        )}
      </details>
    </form>
  );
}
