import { type Bar, LEGAL_NOTE, PLACES, type PlaceId, type Rule } from "../../data/rules.ts";
import { SERVICES, type Service } from "../../src/core/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { type Choice, SelectField, TextField } from "../parts/field.tsx";
import { OPTION_NAMES } from "../words/places.ts";
import { Day } from "../words/said.tsx";
import { RuleItem } from "./rule-item.tsx";

/** The rules of one place on one day. */
export interface PlaceRules {
  place: PlaceId;
  date: string;
  rules: readonly Rule[];
  ended: readonly Rule[];
  bars: readonly { bar: Bar; rule: Rule }[];
}

interface RulesPageProps {
  place: string;
  /** As it was typed. */
  date: string;
  errors: readonly FieldError[];
  shown: PlaceRules | null;
  asset: AssetUrl;
}

export const WHERE_CHOICES: readonly Choice[] = Object.entries(PLACES).map(([id, { name }]) => ({
  value: id,
  label: name,
}));

/** `/rules`: what the law says where the vehicle is. */
export function RulesPage({ place, date, errors, shown, asset }: RulesPageProps) {
  return (
    <Layout
      title={`${errors.length > 0 ? "Error: " : ""}What the rules say · Seepwise`}
      path="/rules"
      asset={asset}
      description="Rules on topping off, leak repair, small cans and deposits for vehicle air conditioners, by place, with their sources."
    >
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      <h1 class="rules-title">May it be topped off here?</h1>
      <form class="rules-form" method="get" action="/rules" novalidate>
        <SelectField
          id="place"
          name="place"
          label="Where the vehicle is"
          value={place}
          choices={WHERE_CHOICES}
          error={errors.find(({ field }) => field === "place")?.message}
        />
        <TextField
          id="date"
          name="date"
          label="Day of the work"
          value={date}
          short
          error={errors.find(({ field }) => field === "date")?.message}
        />
        <button class="button" type="submit">
          Show the rules
        </button>
      </form>
      {shown !== null && <Shown {...shown} />}
      <p class="legal-note">{LEGAL_NOTE} A rule may have changed since the day on which it was checked.</p>
    </Layout>
  );
}

function Shown({ place, date, rules, ended, bars }: PlaceRules) {
  const around = rules.filter((rule) => rule.place !== place);
  const own = rules.filter((rule) => rule.place === place);
  return (
    <>
      <section class="reading-verdict" aria-labelledby="may-title">
        <h2 id="may-title">{PLACES[place].name}</h2>
        <ul class="may">
          {SERVICES.map((service) => (
            <li>{whatMay(service, bars)}</li>
          ))}
        </ul>
        <p class="soft small">
          On <Day iso={date} />, for a system that leaks.
        </p>
      </section>
      {own.length > 0 && (
        <Entry name={PLACES[place].name}>
          {own.map((rule) => (
            <RuleItem rule={rule} />
          ))}
        </Entry>
      )}
      {around.length > 0 && (
        <Entry name="And around it">
          {around.map((rule) => (
            <RuleItem rule={rule} />
          ))}
        </Entry>
      )}
      {ended.length > 0 && (
        <Entry name="No longer in force">
          {ended.map((rule) => (
            <RuleItem rule={rule} />
          ))}
        </Entry>
      )}
    </>
  );
}

const WHO: Readonly<Record<Service, string>> = { diy: "Working on your own vehicle", shop: "A paid service" };

/** What one kind of person may not do here, as a sentence with a link to each rule. */
function whatMay(service: Service, bars: PlaceRules["bars"]) {
  const mine = bars.filter(({ bar }) => bar.service === service);
  if (mine.length === 0) return <>{WHO[service]}: no rule that we know forbids a top-off or a test.</>;
  return (
    <>
      {WHO[service]}:{" "}
      {mine.map(({ bar, rule }, i) => (
        <>
          {i > 0 && ", nor "}
          {i === 0 && "not "}
          <a href={`#${rule.id}`}>{OPTION_NAMES[bar.option].doing}</a>
          {bar.refrigerants !== undefined && ` with ${bar.refrigerants.join(" or ")}`}
          {bar.when === "abnormal-leak" && " after an abnormal leak, before it is repaired"}
        </>
      ))}
      .
    </>
  );
}
