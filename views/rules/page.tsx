import { type Bar, GRADES, LEGAL_NOTE, PLACES, type PlaceId, type Rule, type RuleTopic } from "../../data/rules.ts";
import { SERVICES, type Service } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import type { FieldError } from "../parts/error-summary.tsx";
import { SelectField, TextField } from "../parts/field.tsx";
import { Day, Unbroken } from "../words/said.tsx";
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
      title="What the rules say"
      path="/rules"
      asset={asset}
      errors={errors}
      description="Rules on topping off, leak repair, small cans and deposits for vehicle air conditioners, by place, with their sources."
    >
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
      <p class="legal-note">{LEGAL_NOTE} Rules may have changed since they were checked.</p>
    </Layout>
  );
}

function Shown({ place, date, rules, ended, bars }: PlaceRules) {
  const by_place = [...Map.groupBy(rules, (rule) => rule.place)];
  return (
    <>
      <section class="page-verdict" aria-labelledby="may-title">
        <h2 id="may-title">{PLACES[place].name}</h2>
        {SERVICES.map((service) => (
          <WhoMay service={service} rules={rules} bars={bars} />
        ))}
        <p class="soft small">
          For a leaking system on <Day iso={date} />, as far as we know: check again before the work. What is
          second-hand or not verified warns only.
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

const BOUND: Readonly<Record<Service, Rule["binds"][number]>> = { diy: "private-person", shop: "paid-service" };

/** The four questions of an owner or a shop, each answered by the rules, and until when the answer holds. */
function WhoMay({ service, rules, bars }: { service: Service } & Pick<PlaceRules, "rules" | "bars">) {
  const mine = rules.filter(({ binds }) => binds.includes(BOUND[service]));
  const about = (...topics: RuleTopic[]) => mine.filter(({ topic }) => topics.includes(topic));
  const ends = mine.flatMap(({ until }) => (until === null ? [] : [until])).toSorted()[0];
  return (
    <>
      <h3 class="who-may">{service === "diy" ? "Owner" : "Shop"}</h3>
      <dl class="dates">
        <div>
          <dt>May I buy refrigerant?</dt>
          <dd>
            <RuleList rules={about("buying", "can-valve", "deposit")} none="We know of no rule. Ask before you buy." />
          </dd>
        </div>
        <div>
          <dt>May I top it off?</dt>
          <dd>
            <WhatMay service={service} bars={bars} rules={mine} />
          </dd>
        </div>
        <div>
          <dt>Repair first?</dt>
          <dd>
            <RuleList rules={about("leak-repair", "leak-limit")} none="We know of no such rule." />
          </dd>
        </div>
        <div>
          <dt>What to write down</dt>
          <dd>
            <RuleList rules={about("records")} none="We know of no such rule. Log date and grams anyway." />
          </dd>
        </div>
        {ends !== undefined && (
          <div>
            <dt>Valid until</dt>
            <dd>
              <Day iso={ends} />
            </dd>
          </div>
        )}
      </dl>
    </>
  );
}

/** Titles with how well each is known, each linked to its rule. */
function RuleList({ rules, none }: { rules: readonly Rule[]; none: string }) {
  if (rules.length === 0) return <>{none}</>;
  return (
    <>
      {rules.map(({ id, title, grade }, i) => (
        <>
          {i > 0 && "; "}
          <a href={`#${id}`}>{title}</a>
          {grade !== "text-read" && ` (${GRADES[grade].toLowerCase()})`}
        </>
      ))}
      .
    </>
  );
}

/** What one kind of person may not do here, each linked to its rule, and what is left. */
function WhatMay({ service, bars, rules }: { service: Service } & Pick<PlaceRules, "bars" | "rules">) {
  const mine = bars.filter(({ bar }) => bar.service === service);
  const warns = rules.filter(
    ({ grade, bars: its }) => grade !== "text-read" && its.some((bar) => bar.service === service),
  );
  const told = new Set(
    warns.flatMap(({ bars: its }) =>
      its.filter((bar) => bar.service === service && bar.option === "top-off").map(conditionOf),
    ),
  );
  const read = rules.some(({ grade, topic }) => grade === "text-read" && topic !== "venting" && topic !== "records");
  const by_condition = [...Map.groupBy(mine, ({ bar }) => conditionOf(bar))];
  return (
    <>
      {mine.length === 0 &&
        (told.size > 0
          ? `As others tell it, not ${[...told].join(", nor ")}. We have not read the law's own text: ask the environmental authority first.`
          : read
            ? "We know of no rule against it."
            : "We have not read the law here, so we cannot say. Ask the environmental authority or a shop.")}
      {by_condition.map(([condition, group]) => (
        <>
          {WHO[service]} may not{" "}
          {group.map(({ bar, rule }, i) => (
            <>
              {i > 0 && (i === group.length - 1 ? " or " : ", ")}
              <a href={`#${rule.id}`}>{MAY_NOT[bar.option]}</a>
            </>
          ))}{" "}
          <Unbroken text={condition} />.{condition !== ALWAYS &&
            " Otherwise we know of no rule against a top-off."}{" "}
        </>
      ))}
      {warns.map(({ id, title, grade }) => (
        <>
          {" "}
          {GRADES[grade]}: <a href={`#${id}`}>{title}</a>.
        </>
      ))}
    </>
  );
}

const ALWAYS = "while it leaks";

function conditionOf({ refrigerants, when }: Bar): string {
  if (refrigerants !== undefined) return `if it holds ${refrigerants.join(" or ")}`;
  return when === "leaking" ? ALWAYS : "after an abnormal leak, until it is repaired";
}
