import { CHECKS } from "../../data/checks.ts";
import { FORMULAS, type Formula, type FormulaChapter } from "../../data/formulas.ts";
import { GLOSSARY } from "../../data/glossary.ts";
import { LIMITS } from "../../data/limits.ts";
import { assumptionParameters, planParameters, priceParameters } from "../../data/parameters.ts";
import { vehiclePrices } from "../../data/vehicle-prices.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { LeakLaws } from "./leak-laws.tsx";
import { ReadingsTables } from "./readings-tables.tsx";
import { Climates, KindPriors, LocationTable, ModelConstants, ParameterTable, WarmingTable } from "./tables.tsx";

/**
 * `/method`: every formula, every number with its source, what the model does not know, how it was tested, the words.
 */
export function MethodPage({ asset }: { asset: AssetUrl }) {
  return (
    <Layout
      title="How the numbers are calculated"
      path="/method"
      asset={asset}
      description="Every formula of Seepwise in plain words, every default with its range and source, the limits of the model and how it was tested."
    >
      <div class="lede">
        <h1>How the numbers are calculated</h1>
        <p>
          The charge log tells how fast the system leaks, as a range. For every leak rate in that range, we follow each
          option through the years you keep the vehicle. The answer is the option with the lowest average cost, with
          extra rules for fast leaks and near ties. The same input always gives the same answer.
        </p>
        <Contents />
      </div>
      <div>
        {FORMULAS.map((chapter) => (
          <Chapter chapter={chapter} />
        ))}
        <Entry name="The numbers used" id="numbers" note={<p>The ones the code uses.</p>}>
          <p>
            Each has its default, the range you may enter, and its source. “Working assumption”: ours, without a source.
          </p>
          <ParameterTable id="plan-numbers" title="The plan" parameters={planParameters} />
          <ParameterTable id="price-numbers" title="Prices, in US dollars" parameters={priceParameters} />
          <ParameterTable id="vehicle-numbers" title="Prices that depend on the vehicle" parameters={vehiclePrices} />
          <p class="small soft">
            Put in where a saved vehicle, or the question on the start page, names no price of its own. They are the
            same everywhere: no price by place was found. The interface takes what its request says.
          </p>
          <ParameterTable id="assumption-numbers" title="Assumptions" parameters={assumptionParameters} />
          <KindPriors />
          <LocationTable />
          <WarmingTable />
          <ModelConstants />
          <ReadingsTables />
          <Climates />
        </Entry>
        <Entry name="Another leak law" id="other-laws">
          <LeakLaws />
        </Entry>
        <Entry name="What it does not know" id="limits">
          <ul class="bullets">
            {LIMITS.map((limit) => (
              <li>{limit}</li>
            ))}
          </ul>
        </Entry>
        <Entry name="How it was tested" id="tested">
          <ul class="bullets">
            {CHECKS.map(({ what, against }) => (
              <li>
                <strong>{what}</strong>: {against}
              </li>
            ))}
          </ul>
        </Entry>
        <Entry name="The words" id="words">
          <dl class="words">
            {Object.entries(GLOSSARY).map(([id, { term, definition }]) => (
              <div id={`term-${id}`}>
                <dt>
                  <dfn>{term}</dfn>
                </dt>
                <dd>{definition}</dd>
              </div>
            ))}
          </dl>
        </Entry>
      </div>
    </Layout>
  );
}

const REST = [
  { id: "numbers", title: "The numbers used" },
  { id: "other-laws", title: "Another leak law" },
  { id: "limits", title: "What it does not know" },
  { id: "tested", title: "How it was tested" },
  { id: "words", title: "The words" },
] as const;

function Contents() {
  return (
    <nav aria-label="On this page">
      <ul class="contents">
        {[...FORMULAS, ...REST].map(({ id, title }) => (
          <li>
            <a href={`#${id}`}>{title}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

function Chapter({ chapter }: { chapter: FormulaChapter }) {
  return (
    <Entry name={chapter.title} id={chapter.id}>
      <p>{chapter.intro}</p>
      {chapter.formulas.map((formula) => (
        <FormulaBlock formula={formula} />
      ))}
    </Entry>
  );
}

function FormulaBlock({ formula }: { formula: Formula }) {
  return (
    <article class="formula-block" id={formula.id}>
      <h3>{formula.title}</h3>
      <p>{formula.words}</p>
      <details class="folded on-paper">
        <summary>
          The formula<span class="visually-hidden">: {formula.title}</span>
        </summary>
        <div class="formula">
          {formula.lines.map((line) => (
            <p>
              <FormulaLine line={line} />
            </p>
          ))}
        </div>
        {formula.symbols.length > 0 && (
          <dl class="symbols">
            {formula.symbols.map(([symbol, meaning]) => (
              <div>
                <dt>{symbol}</dt>
                <dd>{meaning}</dd>
              </div>
            ))}
          </dl>
        )}
      </details>
    </article>
  );
}

/** Raises what `^{…}` encloses. */
function FormulaLine({ line }: { line: string }) {
  return <>{line.split(/\^\{([^}]*)\}/).map((part, i) => (i % 2 === 0 ? part : <sup>{part}</sup>))}</>;
}
