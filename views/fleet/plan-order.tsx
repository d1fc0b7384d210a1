import type { Child } from "hono/jsx";
import { monthsOf, type OrderOfVehicle, type RecordedWork } from "../../src/core/fleet/order.ts";
import { formatMonth } from "../../src/core/quantities/dates.ts";
import { formatMoney } from "../../src/core/quantities/format.ts";
import { minorDigits } from "../../src/core/quantities/money.ts";
import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, SelectField, TextField } from "../parts/field.tsx";
import { FigureCell } from "../parts/figure-cell.tsx";
import { vehiclePath } from "../vehicles/record/record.ts";
import { estimated, saidExactMass, saidOdometer } from "../words/numbers.ts";
import { OPTION_NAMES } from "../words/places.ts";
import { Day, Money } from "../words/said.tsx";
import { GROUP_GUESS } from "./order-table.tsx";
import type { MoneyAndUnits } from "./shown.ts";

/** An order, with the entry of the records that tells of it; null where there is none. */
export interface ShownOrder extends OrderOfVehicle {
  recorded: RecordedWork | null;
}

/** What was typed about an order, where that could not be read. */
export interface TypedOrder {
  id: string;
  fields: { done_on: string; paid: string; month: string; price: string };
  errors: readonly FieldError[];
}

interface OrderRowProps {
  order: ShownOrder;
  year: number;
  today: string;
  submit_key: string;
  manner: MoneyAndUnits;
  may_edit: boolean;
  /** The order whose form could not be read, this or another. */
  open: TypedOrder | null;
}

/** What an order is expected to cost, as it is shown: as somebody fixed it, else as an estimate is said. */
export function expectedShown({ price, held }: ShownOrder): number {
  return held ? Math.round(price) : estimated(price);
}

/** Money to the cent where there are cents: a price that is settled, or what was paid. */
function saidExactly(amount: number, { currency }: MoneyAndUnits): string {
  return formatMoney(amount, currency, Number.isInteger(amount) ? 0 : minorDigits(currency));
}

/** What an order takes of the money, as its row shows it: what was paid, else what is expected. */
export function takenShown(order: ShownOrder): number {
  return order.paid ?? expectedShown(order);
}

/** A row of the plan: the order, and what can be said of it. */
export function OrderRow(props: OrderRowProps) {
  const { order, manner, may_edit } = props;
  const { vehicle, done_on, recorded } = order;
  return (
    <tr id={`order-${order.id}`}>
      <td class="fleet-box" aria-label={done_on === null ? "To do" : "Done"}>
        <span aria-hidden="true">{done_on === null ? "☐" : "☑"}</span>
      </td>
      <th scope="row">
        <a href={vehiclePath(vehicle.id)} dir="auto">
          {vehicle.label}
        </a>
        <small>
          {[
            `${vehicle.refrigerant}, ${saidExactMass(vehicle.nameplate_g, manner.units)}`,
            ...(vehicle.model_year === null ? [] : [`model year ${vehicle.model_year}`]),
            ...(vehicle.odometer === null ? [] : [saidOdometer(vehicle.odometer, manner.units)]),
          ].join("; ")}
        </small>
        {order.archived && <small>archived</small>}
      </th>
      <td data-heading="Do">
        {OPTION_NAMES[order.option].name}
        {order.carried_from !== null && <small>carried over from {order.carried_from}</small>}
        {order.no_entries && done_on === null && <small>{GROUP_GUESS}</small>}
        {order.held && done_on === null && order.carried_from === null && <small>held</small>}
      </td>
      <td data-heading="Month">{formatMonth(`${order.month}-01`)}</td>
      <FigureCell heading="Expected">
        <Money>{saidExactly(expectedShown(order), manner)}</Money>
      </FigureCell>
      <FigureCell heading="Paid">
        {order.paid !== null && <Money>{saidExactly(order.paid, manner)}</Money>}
        {order.paid === null && done_on !== null && "not entered"}
      </FigureCell>
      <td data-heading="Done on">
        {done_on !== null && <Day iso={done_on} />}
        {done_on !== null && (
          <small>
            {recorded !== null ? (
              <a href={recordPath(recorded)}>in the records</a>
            ) : (
              may_edit && <a href={`${vehiclePath(vehicle.id)}/log/new`}>not in the log: add it</a>
            )}
          </small>
        )}
        {done_on === null && recorded !== null && (
          <small>
            the records have <a href={recordPath(recorded)}>a {recorded.what}</a> on <Day iso={recorded.date} />
          </small>
        )}
      </td>
      {may_edit && (
        <td class="fleet-screen" data-heading="Tick off">
          {done_on === null ? (
            <>
              <TickForm {...props} />
              <MoveForm {...props} />
            </>
          ) : (
            <BackForm {...props} />
          )}
        </td>
      )}
    </tr>
  );
}

function recordPath({ vehicle_id, what, id }: RecordedWork): string {
  return `${vehiclePath(vehicle_id)}/${what === "repair" ? "log" : "findings"}/${id}`;
}

function Hidden({ order, submit_key }: { order: ShownOrder; submit_key: string }) {
  return (
    <>
      <input type="hidden" name="version" value={order.version} />
      <input type="hidden" name="submit_key" value={`${submit_key}-${order.id}`} />
    </>
  );
}

interface OrderFormProps extends Pick<OrderRowProps, "order" | "submit_key"> {
  /** On the button that opens it. */
  name: string;
  open: boolean;
  children: Child;
}

function OrderForm({ name, order, submit_key, open, children }: OrderFormProps) {
  return (
    <details class="fleet-order-form" open={open || undefined}>
      <summary class="button-quiet" aria-label={`${name}: ${order.vehicle.label}`}>
        {name}
      </summary>
      <form method="post" action={`/fleet/plan/orders/${order.id}`}>
        <Hidden order={order} submit_key={submit_key} />
        {children}
      </form>
    </details>
  );
}

function TickForm({ order, open, today, submit_key }: OrderRowProps) {
  const { id, vehicle, recorded, held } = order;
  const typed = typedOf(open, id, ["done_on", "paid"]);
  const messages = messagesOf(typed?.errors ?? []);
  return (
    <OrderForm name="Done…" order={order} submit_key={submit_key} open={typed !== null}>
      <TextField
        id={`done_on-${id}`}
        name="done_on"
        label="Done on"
        error={messages.get("done_on")}
        value={typed?.fields.done_on ?? recorded?.date ?? today}
        short
      />
      <TextField
        id={`paid-${id}`}
        name="paid"
        label="Paid"
        hint="Empty if not billed yet"
        error={messages.get("paid")}
        value={typed?.fields.paid ?? ""}
        inputmode="decimal"
        short
      />
      <button type="submit" class="button" name="say" value="done" aria-label={`Done: ${vehicle.label}`}>
        Done
      </button>
      <button
        type="submit"
        class="button-quiet"
        name="say"
        value={held ? "release" : "hold"}
        aria-label={`${held ? "Let the plan decide" : "Hold in the plan"}: ${vehicle.label}`}
      >
        {held ? "Let the plan decide" : "Hold in the plan"}
      </button>
    </OrderForm>
  );
}

/** What was typed about an order in the form with these fields; null where that form was not sent or was right. */
function typedOf(open: TypedOrder | null, id: string, names: readonly string[]) {
  return open?.id === id && open.errors.some(({ field }) => names.includes(field)) ? open : null;
}

/** Another month or price; from then on it stays in the plan as it is. */
function MoveForm({ order, open, year, submit_key }: OrderRowProps) {
  const { id, vehicle, month, price } = order;
  const typed = typedOf(open, id, ["month", "price"]);
  const messages = messagesOf(typed?.errors ?? []);
  return (
    <OrderForm name="Change…" order={order} submit_key={submit_key} open={typed !== null}>
      <SelectField
        id={`month-${id}`}
        name="month"
        label="Month"
        value={typed?.fields.month ?? month}
        choices={monthsOf(year).map((value) => ({ value, label: formatMonth(`${value}-01`) }))}
        error={messages.get("month")}
      />
      <TextField
        id={`price-${id}`}
        name="price"
        label="Price"
        error={messages.get("price")}
        value={typed?.fields.price ?? String(Math.round(price))}
        inputmode="decimal"
        short
      />
      <button type="submit" class="button" name="say" value="move" aria-label={`Change: ${vehicle.label}`}>
        Change
      </button>
    </OrderForm>
  );
}

function BackForm({ order, submit_key }: OrderRowProps) {
  return (
    <form method="post" action={`/fleet/plan/orders/${order.id}`}>
      <Hidden order={order} submit_key={submit_key} />
      <button
        type="submit"
        class="button-quiet"
        name="say"
        value="open"
        aria-label={`Not done: ${order.vehicle.label}`}
      >
        Not done
      </button>
    </form>
  );
}
