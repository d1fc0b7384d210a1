import { formatMass } from "../../src/core/quantities/format.ts";
import { formatQuantity } from "../../src/core/quantities/money.ts";
import { LOCATION_IDS, type LocationId } from "../../src/core/question/contract.ts";
import type { Agreement } from "../../src/core/quotes/agreement.ts";
import type { QuoteOption } from "../../src/core/quotes/quote.ts";
import { type QuoteSnapshot, quoteNumber } from "../../src/core/quotes/quote-document.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { SelectField } from "../parts/field.tsx";
import { FormFoot } from "../parts/form-foot.tsx";
import { WorkCautions } from "../parts/work-cautions.tsx";
import { saidInEnglish } from "../quotes/customer-said.tsx";
import { Fact, PaperHead, SheetFoot, vehicleFacts } from "../quotes/paper-head.tsx";
import { PLACE_NAMES } from "../words/places.ts";
import { Day } from "../words/said.tsx";

interface WorkOrderPageProps {
  snapshot: QuoteSnapshot;
  /** The one that was accepted. */
  option: QuoteOption;
  /** Of a repair of what is found: the place that the lines are for; null for any other. */
  found_at: LocationId | null;
  accepted: { name: string; on: string };
  agreement: Agreement;
  back: string;
  asset: AssetUrl;
}

/**
 * The work order for the bay: what was ordered, with boxes for what is weighed and measured. Its lines have no price.
 */
export function WorkOrderPage(props: WorkOrderPageProps) {
  const { snapshot, option, found_at, accepted, agreement, back, asset } = props;
  const { letterhead, customer, vehicle, units } = snapshot;
  const number = quoteNumber(snapshot);
  const said = saidInEnglish(snapshot);
  const name = `Work order for quote ${number}`;
  return (
    <Layout title={name} by={letterhead.shop} path="" asset={asset} document>
      <p class="way-back screen-only">
        <a href={back}>Back to the quote</a>. To print it or save it as PDF, use your browser's print.
      </p>
      {found_at !== null && <FoundAt found_at={found_at} path={`${back}/work-order`} />}
      <article class="paper">
        <PaperHead letterhead={letterhead} said={said}>
          <Fact name="Quote">{number}</Fact>
          {customer !== "" && <Fact name="For">{customer}</Fact>}
          {vehicleFacts(vehicle, said).map(([fact, text]) => (
            <Fact name={fact}>{text}</Fact>
          ))}
          <Fact name="Refrigerant">{vehicle.refrigerant}</Fact>
          <Fact name="Nameplate charge">{formatMass(vehicle.nameplate_g, units)}</Fact>
          {agreement.ready_by !== null && (
            <Fact name="Ready by">
              <Day iso={agreement.ready_by} />
            </Fact>
          )}
          {agreement.deposit !== null && <Fact name="Deposit paid">{said.amount(agreement.deposit.amount_minor)}</Fact>}
        </PaperHead>
        <section class="offer-part">
          <h1 class="paper-title">{name}</h1>
          <p>
            <strong>{option.title}</strong>, ordered by {accepted.name} on <Day iso={accepted.on} />. {option.words}
          </p>
          {option.not_covered !== "" && <p>Not ordered: {option.not_covered}</p>}
        </section>
        <section class="offer-part">
          <h2>To be done</h2>
          {found_at !== null && (
            <p>
              For a leak at {PLACE_NAMES[found_at].at}. Found elsewhere, ask the customer, then print it for that place.
            </p>
          )}
          <ul class="tick-list">
            {option.lines.map(({ text, quantity_milli, unit }) => (
              <li>
                {text}, {formatQuantity(quantity_milli, snapshot.number_format)}
                {unit !== "" && ` ${unit}`}
              </li>
            ))}
          </ul>
          <p>
            {agreement.extra_minor > 0
              ? `More work for over ${said.amount(agreement.extra_minor)} with tax, or another location of the leak: ask the customer first.`
              : "More work, or another location of the leak: ask the customer first."}
          </p>
        </section>
        <section class="offer-part offer-cautions">
          <h2>Take care</h2>
          <WorkCautions refrigerants={[vehicle.refrigerant]} />
        </section>
        <section class="offer-part">
          <h2>Written down while working</h2>
          <div class="write-lines">
            {WRITTEN.map((line) => (
              <span>{line}</span>
            ))}
          </div>
        </section>
        <SheetFoot name={name} shop={letterhead.shop} />
      </article>
    </Layout>
  );
}

/** Chooses the place that the lines are for. */
function FoundAt({ found_at, path }: { found_at: LocationId; path: string }) {
  return (
    <form method="get" action={path} class="stack screen-only">
      <SelectField
        id="found"
        name="found"
        label="Leak found at"
        value={found_at}
        choices={LOCATION_IDS.map((id) => ({ value: id, label: PLACE_NAMES[id].name }))}
      />
      <FormFoot submit="Show its lines" quiet />
    </form>
  );
}

/** Weights are read off the scale, so no figure stands there before. */
const WRITTEN = [
  "Odometer",
  "Recovered, by the scale",
  "Into cylinder",
  "Evacuated to, held for",
  "Charged, by the scale",
  "From cylinder",
  "Leak found at",
  "Low side, high side, vent temperature",
  "Technician, certificate",
  "Date",
] as const;
