import type { Rule } from "../../data/rules.ts";
import { Day } from "../words/said.tsx";

const BINDS = {
  "private-person": "a private person",
  "paid-service": "a paid service",
  seller: "who sells or makes",
} as const;

/** One rule in plain words, whom it binds, and where it is written. */
export function RuleItem({ rule }: { rule: Rule }) {
  const { id, title, says, binds, citation, source, text_as_of, checked, confidence, doubt, from, until } = rule;
  return (
    <article class="rule" id={id}>
      <h3>{title}</h3>
      <p>{says}</p>
      {doubt !== null && <p class="step-caution">In doubt: {doubt}</p>}
      <dl class="rule-facts">
        <div>
          <dt>Binds</dt>
          <dd>{binds.map((who) => BINDS[who]).join(", ")}</dd>
        </div>
        {(from !== null || until !== null) && (
          <div>
            <dt>In force</dt>
            <dd>
              {from !== null && (
                <>
                  from <Day iso={from} />
                </>
              )}{" "}
              {until !== null && (
                <>
                  until <Day iso={until} />
                </>
              )}
            </dd>
          </div>
        )}
        <div>
          <dt>Text</dt>
          <dd>{citation}</dd>
        </div>
        <div>
          <dt>{confidence === "seen" ? "Seen in" : "From memory"}</dt>
          <dd>
            {confidence === "seen" && (
              <>
                {source}
                {text_as_of !== null && ` (text as of ${text_as_of})`},{" "}
              </>
            )}
            checked <Day iso={checked} />
          </dd>
        </div>
      </dl>
    </article>
  );
}
