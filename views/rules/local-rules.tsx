import { GRADES, LEGAL_NOTE, PLACES, type PlaceId, type Rule } from "../../data/rules.ts";
import type { LocalRules } from "../../src/core/rules/local-rules.ts";
import { rulesWereRead } from "../../src/core/rules/rules.ts";
import { Entry } from "../parts/entry.tsx";
import { MAY_NOT, WHO } from "./may-not.ts";

interface LocalRulesProps {
  local: LocalRules;
  /** Where it is said where the vehicle is. */
  say_where: string;
}

/** What the law says where the vehicle is, beside an answer: what it bars and why, and what else holds. */
export function LocalRulesEntry(props: LocalRulesProps) {
  return (
    <Entry name="Local rules" note={<p>{PLACES[props.local.place].name}</p>} id="local-rules">
      <LocalRulesText {...props} />
    </Entry>
  );
}

/** The same without a heading of its own. */
export function LocalRulesText({ local, say_where }: LocalRulesProps) {
  const { place, service, barred, warned, others } = local;
  const by_rule = [...Map.groupBy(barred, ({ rule }) => rule)];
  const warnings = [...Map.groupBy(warned, ({ rule }) => rule)];
  return (
    <>
      {by_rule.length > 0 && (
        <ul class="bullets local-bars">
          {by_rule.map(([rule, bars]) => (
            <li>
              <strong>
                {WHO[service]} may not {bars.map(({ option }) => MAY_NOT[option]).join(" or ")}.
              </strong>{" "}
              <RuleLink rule={rule} local={local} />.
            </li>
          ))}
        </ul>
      )}
      {warnings.map(([rule, bars]) => (
        <p class="step-caution">
          <strong>
            Ask the authority first: as others tell it, {WHO[service].toLowerCase()} may not{" "}
            {bars.map(({ option }) => MAY_NOT[option]).join(" or ")}.
          </strong>{" "}
          {rule.says} We have not read the law's own text, so this answer does not apply it.{" "}
          <span class="small">
            <RuleLink rule={rule} local={local} />, {rule.citation}.
          </span>
        </p>
      ))}
      {place === "elsewhere" ? (
        <p>
          You haven't said where the vehicle is, so no local rules are applied.{" "}
          <a href={say_where}>Choose where it is</a>: some places allow only certified technicians to add refrigerant,
          or require the leak to be repaired first.
        </p>
      ) : (
        by_rule.length === 0 &&
        warnings.length === 0 && (
          <p>
            {rulesWereRead(place, local.date)
              ? "We know of no rule that limits these options here."
              : "We have not read the law here. Ask the authority or a shop first."}
          </p>
        )
      )}
      <p class="small soft">{LEGAL_NOTE}</p>
      {by_rule.length + others.length > 0 && place !== "elsewhere" && (
        <details class="fold-in">
          <summary>{by_rule.length > 0 ? "What these rules say, and others in force" : "Rules in force"}</summary>
          {by_rule.map(([rule]) => (
            <p>
              <strong>{rule.title}.</strong> {rule.says}
              {rule.doubt !== null && <> In doubt: {rule.doubt}</>} <span class="small">{rule.citation}.</span>
            </p>
          ))}
          {others.length > 0 && (
            <p>
              {by_rule.length === 0 ? "In force" : "Also in force"}:{" "}
              {others.map((rule, i) => (
                <>
                  {i > 0 && "; "}
                  <RuleLink rule={rule} local={local} />
                  {rule.grade !== "text-read" && ` (${GRADES[rule.grade].toLowerCase()})`}
                </>
              ))}
              .
            </p>
          )}
        </details>
      )}
    </>
  );
}

/** A rule by its title, where it is told in full. */
export function RuleLink({ rule, local }: { rule: Rule; local: Pick<LocalRules, "place" | "date"> }) {
  return <a href={`${rulesAddress(local.place, local.date)}#${rule.id}`}>{rule.title}</a>;
}

function rulesAddress(place: PlaceId, date: string): string {
  return `/rules?${new URLSearchParams({ place, date })}`;
}
