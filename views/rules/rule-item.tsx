import { GRADES, type Rule } from "../../data/rules.ts";
import { Day, Unbroken } from "../words/said.tsx";

const BINDS = {
  "private-person": "vehicle owners",
  "paid-service": "shops",
  seller: "sellers and makers",
} as const;

/** One rule in plain words, whom it binds, and where it is written. */
export function RuleItem({ rule }: { rule: Rule }) {
  const { id, title, says, binds, citation, source, text_as_of, checked, grade, doubt, from, until } = rule;
  return (
    <article class="rule" id={id}>
      <h3>{title}</h3>
      <p>
        <Unbroken text={says} />
      </p>
      {doubt !== null && <p class="step-caution">In doubt: {doubt}</p>}
      <details class="numbers">
        <summary>
          {GRADES[grade]}, for {binds.map((who) => BINDS[who]).join(", ")}
        </summary>
        <dl class="rule-facts">
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
            <dt>Legal text</dt>
            <dd>{citation}</dd>
          </div>
          <div>
            <dt>{GRADES[grade]}</dt>
            <dd>
              {grade === "not-verified" ? (
                <>
                  Recorded <Day iso={checked} />. It limits nothing here.
                </>
              ) : (
                <>
                  {source}
                  {text_as_of !== null && ` (text as of ${text_as_of})`}, read <Day iso={checked} />.
                  {grade === "second-hand" && " It warns and limits nothing here."}
                </>
              )}
            </dd>
          </div>
        </dl>
      </details>
    </article>
  );
}
