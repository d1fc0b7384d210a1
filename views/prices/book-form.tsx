import { LINE_KIND_NAMES } from "../../data/quote-words.ts";
import { LOCATION_IDS, type LocationId, REFRIGERANTS, type RefrigerantId } from "../../src/core/question/contract.ts";
import { OWN_LINES, PRICED_PER } from "../../src/core/quotes/price-book.ts";
import { LINE_KINDS } from "../../src/core/quotes/quote.ts";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { fieldOf, messagesOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { PLACE_NAMES } from "../words/places.ts";

/** A price book as it was typed, by the ids of its fields (`hours.hose`, `tax_parts`). */
export type BookFields = Readonly<Record<string, string>>;

/** Fields of a form by their ids, each as it was typed. */
type Of = (id: string) => { id: string; name: string; value: string; error: string | undefined };

/** What every part of the form is given. */
interface Part {
  of: Of;
  currency: string;
}

/** The fields of a price book, in the order of the work. */
export function BookForm({
  fields,
  errors,
  currency,
}: {
  fields: BookFields;
  errors: readonly FieldError[];
  currency: string;
}) {
  const part = { of: fieldOf(fields, messagesOf(errors)), currency };
  return (
    <>
      <Entry name="The book">
        <div class="field-grid">
          <TextField {...part.of("name")} label="Name" words />
          <PriceField {...part} id="labor_rate" label={`Labor rate in ${currency}`} hint="For an hour" />
        </div>
      </Entry>
      <Repairs {...part} />
      <Service {...part} />
      <Entry name="Refrigerant">
        {REFRIGERANTS.map((refrigerant) => (
          <RefrigerantFields refrigerant={refrigerant} {...part} />
        ))}
      </Entry>
      <LeakTests {...part} />
      <Entry name="Your own lines" note={<p>To be added to a quote with one press</p>}>
        {OWN_LINES.map((n) => (
          <OwnLineFields n={n} {...part} />
        ))}
      </Entry>
      <OnTop {...part} />
      <Entry name="Taxes" note={<p>Enter 0 for no tax. Two taxes with the same name and rate count as one.</p>}>
        <TaxFields on="parts" of={part.of} />
        <TaxFields on="labor" of={part.of} />
      </Entry>
      <Validity of={part.of} />
    </>
  );
}

interface NumberFieldProps {
  of: Of;
  id: string;
  label: string;
  /** Follows the label for whoever does not see the group that the field stands in. */
  whose?: string;
  hint?: string;
  unit: string;
}

/** A field for one number. */
function NumberField({ of, id, label, whose, hint, unit }: NumberFieldProps) {
  return (
    <TextField
      {...of(id)}
      label={
        whose === undefined ? (
          label
        ) : (
          <>
            {label}
            <span class="visually-hidden">{whose}</span>
          </>
        )
      }
      hint={hint}
      short
      inputmode="decimal"
      unit={unit}
    />
  );
}

/** A field for a price. */
function PriceField({ currency, ...field }: Omit<NumberFieldProps, "unit"> & { currency: string }) {
  return <NumberField {...field} unit={currency} />;
}

function Repairs({ of, currency }: Part) {
  const whose = ", high-voltage compressor";
  return (
    <Entry name="Repairs" note={<p>By where it leaks</p>}>
      {LOCATION_IDS.map((place) => (
        <PlaceFields place={place} of={of} currency={currency} />
      ))}
      <fieldset class="place-prices">
        <legend>High-voltage compressor</legend>
        <NumberField
          of={of}
          id="hours.electric-compressor"
          label="Hours"
          whose={whose}
          hint="Empty: as above"
          unit="h"
        />
        <PriceField
          of={of}
          currency={currency}
          id="parts.electric-compressor"
          label={`Parts in ${currency}`}
          whose={whose}
          hint="Empty: as above"
        />
      </fieldset>
    </Entry>
  );
}

function Service(part: Part) {
  const { currency } = part;
  return (
    <Entry name="Service">
      <div class="field-grid">
        <PriceField {...part} id="recover" label={`Recover, in ${currency}`} />
        <PriceField {...part} id="evacuate" label={`Evacuate, in ${currency}`} />
        <PriceField {...part} id="charge" label={`Charge by weight, in ${currency}`} hint="Without the refrigerant" />
      </div>
    </Entry>
  );
}

function LeakTests(part: Part) {
  const { currency } = part;
  return (
    <Entry name="Leak tests">
      <div class="field-grid">
        <PriceField {...part} id="electronic" label={`Electronic test, in ${currency}`} />
        <PriceField {...part} id="dye" label={`Dye, in ${currency}`} hint="Put in with the charge" />
        <PriceField
          {...part}
          id="dye_inspection"
          label={`Looking for the dye, in ${currency}`}
          hint="About five weeks later"
        />
      </div>
    </Entry>
  );
}

/** Markup, the minimum charge and shop supplies. */
function OnTop(part: Part) {
  const { of, currency } = part;
  return (
    <>
      <Entry name="On top">
        <div class="field-grid">
          <NumberField
            of={of}
            id="parts_markup"
            label="Markup on parts (percent)"
            hint="Empty where the parts above are what the customer pays"
            unit="%"
          />
          <PriceField
            {...part}
            id="minimum"
            label={`Minimum charge before tax, in ${currency}`}
            hint="Empty for none"
          />
        </div>
      </Entry>
      <Entry name="Shop supplies">
        <div class="field-grid">
          <NumberField of={of} id="supplies" label="Percent of labor and service" unit="%" />
          <PriceField {...part} id="supplies_most" label={`At most, in ${currency}`} hint="Empty for no limit" />
        </div>
      </Entry>
    </>
  );
}

function Validity({ of }: Pick<Part, "of">) {
  return (
    <Entry name="Warranty and validity">
      <div class="field-grid">
        <TextField
          {...of("warranty_months")}
          label="Warranty on repairs, in months"
          hint="0 for none"
          short
          inputmode="numeric"
          unit="months"
        />
        <TextField {...of("valid_days")} label="Quotes are valid for (days)" short inputmode="numeric" unit="days" />
      </div>
      <TextAreaField {...of("warranty_words")} label="What the warranty covers" rows={2} />
    </Entry>
  );
}

function PlaceFields({ place, of, currency }: Part & { place: LocationId }) {
  const { name } = PLACE_NAMES[place];
  const opened = of(`opened.${place}`);
  const whose = `, ${name}`;
  return (
    <fieldset class="place-prices">
      <legend>{name}</legend>
      <NumberField of={of} id={`hours.${place}`} label="Hours" whose={whose} unit="h" />
      <PriceField of={of} currency={currency} id={`parts.${place}`} label={`Parts in ${currency}`} whose={whose} />
      <label class="choice">
        <input type="checkbox" id={opened.id} name={opened.name} value="yes" checked={opened.value === "yes"} />
        <span>
          The system is opened<span class="visually-hidden">{whose}</span>
        </span>
      </label>
    </fieldset>
  );
}

function OwnLineFields({ n, of, currency }: Part & { n: string }) {
  const always = of(`own_always.${n}`);
  const of_line = <span class="visually-hidden">, own line {n}</span>;
  return (
    <fieldset class="place-prices">
      <legend>Line {n}</legend>
      <TextField {...of(`own_text.${n}`)} label={<>For{of_line}</>} words />
      <PriceField
        of={of}
        currency={currency}
        id={`own_price.${n}`}
        label={`Price in ${currency}`}
        whose={`, own line ${n}`}
      />
      <SelectField
        {...withUsual(of(`own_kind.${n}`), "service")}
        label={<>Kind{of_line}</>}
        choices={LINE_KINDS.map((kind) => ({ value: kind, label: LINE_KIND_NAMES[kind] }))}
        class="short-select"
      />
      <label class="choice">
        <input type="checkbox" id={always.id} name={always.name} value="yes" checked={always.value === "yes"} />
        <span>On every option that handles refrigerant{of_line}</span>
      </label>
    </fieldset>
  );
}

function withUsual<Field extends { value: string }>(field: Field, usual: string): Field {
  return field.value === "" ? { ...field, value: usual } : field;
}

function RefrigerantFields({ refrigerant, of, currency }: Part & { refrigerant: RefrigerantId }) {
  const whose = `, ${refrigerant}`;
  return (
    <fieldset class="place-prices">
      <legend>{refrigerant}</legend>
      <PriceField
        of={of}
        currency={currency}
        id={`refrigerant.${refrigerant}`}
        label={`Price in ${currency}`}
        whose={whose}
      />
      <SelectField
        {...of(`per.${refrigerant}`)}
        label={
          <>
            for each<span class="visually-hidden">{whose}</span>
          </>
        }
        choices={PRICED_PER.map((per) => ({ value: per, label: per }))}
        class="short-select"
      />
      <PriceField
        of={of}
        currency={currency}
        id={`service_extra.${refrigerant}`}
        label={`Extra for its machine in ${currency}`}
        whose={whose}
        hint="Empty for none"
      />
    </fieldset>
  );
}

function TaxFields({ on, of }: Pick<Part, "of"> & { on: "parts" | "labor" }) {
  const whose = ` of the tax on ${on}`;
  return (
    <fieldset class="place-prices">
      <legend>On {on}</legend>
      <NumberField of={of} id={`tax_${on}`} label="Percent" whose={whose} unit="%" />
      <TextField
        {...of(`tax_${on}_name`)}
        label={
          <>
            Name on the invoice<span class="visually-hidden">{whose}</span>
          </>
        }
        words
      />
    </fieldset>
  );
}
