import { type Bar, LEGAL_NOTE, PLACES, type PlaceId, type Rule } from "../../data/rules.ts";
import { SERVICES, type Service } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { SelectField, TextField } from "../parts/field.tsx";
import { Day } from "../words/said.tsx";
import { MAY_NOT, WHO } from "./may-not.ts";
import { RuleItem } from "./rule-item.tsx";
import { WHERE_CHOICES } from "./where-choices.ts";

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
      <h1 class="page-title">May it be topped off here?</h1>
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
          class="rules-date"
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
  const by_place = [...Map.groupBy(rules, (rule) => rule.place)];
  return (
    <>
      <section class="page-verdict" aria-labelledby="may-title">
        <h2 id="may-title">{PLACES[place].name}</h2>
        <ul class="may">
          {SERVICES.map((service) => (
            <WhatMay service={service} bars={bars} />
          ))}
        </ul>
        <p class="soft small">
          On <Day iso={date} />, for a system that leaks, as far as we know the rules.
        </p>
      </section>
      {by_place.map(([id, its_rules]) => (
        <Entry name={PLACES[id].region}>
          {its_rules.map((rule) => (
            <RuleItem rule={rule} />
          ))}
        </Entry>
      ))}
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

/** What one kind of person may not do here, each linked to its rule, and what is left. */
function WhatMay({ service, bars }: { service: Service; bars: PlaceRules["bars"] }) {
  const mine = bars.filter(({ bar }) => bar.service === service);
  if (mine.length === 0)
    return (
      <li>
        <strong>{WHO[service]}</strong> may top it off: no rule that we know forbids it.
      </li>
    );
  const by_condition = [...Map.groupBy(mine, ({ bar }) => conditionOf(bar))];
  return (
    <>
      {by_condition.map(([condition, group]) => (
        <li>
          <strong>{WHO[service]}</strong> may not{" "}
          {group.map(({ bar, rule }, i) => (
            <>
              {i > 0 && (i === group.length - 1 ? " or " : ", ")}
              <a href={`#${rule.id}`}>{MAY_NOT[bar.option]}</a>
            </>
          ))}{" "}
          {condition}.{condition !== ALWAYS && " Otherwise no rule that we know forbids a top-off."}
        </li>
      ))}
    </>
  );
}

const ALWAYS = "while it leaks";

function conditionOf({ refrigerants, when }: Bar): string {
  if (refrigerants !== undefined) return `if it holds ${refrigerants.join(" or ")}`;
  return when === "leaking" ? ALWAYS : "after an abnormal leak, until it is repaired";
}
