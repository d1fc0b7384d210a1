import type { FieldError } from "../parts/error-summary.tsx";
import { messagesOf, RadioField, TextField } from "../parts/field.tsx";

/** A person to choose. */
interface Choosable {
  id: string;
  name: string;
  phone: string;
}

export interface CustomerChoiceProps {
  /** Id of the one who is chosen; empty for nobody. */
  chosen: string;
  /** The one who is chosen, where there is one. */
  owner: Choosable | null;
  /** What was looked for; empty for nothing. */
  find: string;
  /** Those that it found, by name: the first of them. */
  found: readonly Choosable[];
  /** There are more than these. */
  more: boolean;
  errors: readonly FieldError[];
}

/** Chooses a customer, however many there are: found as one types, without scripts by a press. */
export function CustomerChoice({ path, ...props }: CustomerChoiceProps & { path: string }) {
  return (
    <div class="customer-choice">
      <CustomerChoices {...props} />
      <div
        class="customer-find"
        hx-get={`${path}/customers`}
        hx-trigger="input changed delay:250ms from:#find, search from:#find"
        hx-include="#find, [name='customer_id']:checked"
        hx-target="#customer-choices"
        hx-swap="outerHTML"
      >
        <TextField
          id="find"
          name="find"
          label="Find a customer"
          hint="Name, phone, plate or VIN"
          value={props.find}
          words
        />
        <button type="submit" name="search" value="yes" class="button-quiet">
          Search
        </button>
      </div>
    </div>
  );
}

/** Those who can be chosen now; the one who is chosen stays among them. */
export function CustomerChoices({ chosen, owner, find, found, more, errors }: CustomerChoiceProps) {
  const others = found.filter(({ id }) => id !== owner?.id);
  return (
    <div id="customer-choices" aria-live="polite">
      <RadioField
        id="customer_id"
        name="customer_id"
        label="Customer"
        error={messagesOf(errors).get("customer_id")}
        value={chosen}
        choices={[
          { value: "", label: "Nobody" },
          ...(owner === null ? [] : [choiceOf(owner)]),
          ...others.map(choiceOf),
        ]}
      />
      {find !== "" && found.length === 0 && (
        <p>
          No customer is found by “{find}”. Type less of it, or{" "}
          <a href={`/customers/new?${new URLSearchParams({ name: find })}`}>add a customer</a>.
        </p>
      )}
      {more && <p class="soft">There are more: type more of the name.</p>}
      {find === "" && found.length === 0 && (
        <p>
          There is no customer yet. <a href="/customers/new">Add a customer</a>
        </p>
      )}
    </div>
  );
}

function choiceOf({ id, name, phone }: Choosable) {
  return { value: id, label: phone === "" ? name : `${name}, ${phone}` };
}
