import { bandLines, CHARTS_DISAGREE_KPA, coldDay } from "../../data/readings-table.ts";
import { formatAboutMass } from "../../src/core/quantities/format.ts";
import type {
  Diagnosis,
  ReadingId,
  Readings,
  ReadingsJudgement,
  StaticAnswer,
} from "../../src/core/readings/readings-contract.ts";
import { Entry } from "../parts/entry.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { capitalized } from "../words/in-sentence.ts";
import { saidChance } from "../words/numbers.ts";
import { FINDING_WORDS } from "./finding-words.ts";
import { GaugeDiagram } from "./gauge-diagram.tsx";
import { READING_NAMES } from "./reading-names.ts";
import {
  type GaugeStyle,
  saidDifference,
  saidEvidence,
  saidPressure,
  saidPressureDifference,
  saidPressures,
  saidProblem,
  saidTemperature,
} from "./said-readings.ts";
import { SHOP_STEPS } from "./shop-steps.ts";

export interface JudgementProps {
  judgement: ReadingsJudgement;
  readings: Readings & { ambient_c: number };
  gaugeStyle: GaugeStyle;
  /** Readings that the form on this page asks for; all of them, unless given. */
  askable?: ReadonlySet<ReadingId>;
}

/** What the readings say, in the order in which someone at the car wants it. */
export function Judgement(props: JudgementProps) {
  const { judgement, readings, gaugeStyle } = props;
  return (
    <>
      <section class="page-verdict" id="says" aria-labelledby="says-title">
        <h2 id="says-title">{verdictSentence(judgement)}</h2>
        <p class="sure">{whatNow(judgement)}</p>
      </section>
      {judgement.problems.length > 0 && (
        <Entry name="Look again">
          <ul class="reading-problems">
            {judgement.problems.map((problem) => (
              <li>{saidProblem(problem, gaugeStyle)}</li>
            ))}
          </ul>
        </Entry>
      )}
      <NextReading {...props} />
      <Entry name="Possible causes" note={<p>Out of 100 systems with these readings</p>}>
        <Findings {...props} />
      </Entry>
      <Entry name="The two sides">
        <GaugeDiagram
          readings={usedPair(judgement, readings)}
          expected={judgement.expected}
          gaugeStyle={gaugeStyle}
          ambient={saidTemperature(gaugeStyle, readings.ambient_c)}
        />
        <Temperatures {...props} />
      </Entry>
      {judgement.static !== null && (
        <Entry name="Static pressure">
          <StaticText standing={judgement.static} {...props} />
        </Entry>
      )}
      <Targets {...props} />
      <AtAShop {...props} />
    </>
  );
}

/** A finding that is this likely is named in the sentence that leaves it open. */
const STILL_OPEN = 0.1;

/** What the readings say, in a sentence or two. */
export function verdictSentence({ first, says, findings }: ReadingsJudgement): string {
  if (first === "undecided") {
    if (says === "low") return "It is low, or nearly empty.";
    const open = findings
      .filter(({ probability }) => probability >= STILL_OPEN)
      .map(({ id }) => FINDING_WORDS[id].noun);
    if (says === "not-low") return `It is not low. Most likely: ${listed(open)}.`;
    return "These readings can't tell yet.";
  }
  const { as } = FINDING_WORDS[first];
  if (first === "low-charge")
    return says === "low" ? "It is low on refrigerant." : "It is low on refrigerant, more likely than not.";
  if (first === "nearly-empty") return "It is nearly empty: no liquid is left.";
  if (first === "normal")
    return says === "not-low"
      ? "It reads normal: not low enough to cool poorly."
      : "It reads normal so far, but may be low.";
  return says === "not-low"
    ? `Check first: ${as}. Low charge is not the trouble.`
    : `Most likely ${as}. Low charge is not ruled out.`;
}

function listed(nouns: readonly string[]): string {
  const last = nouns.at(-1) ?? "";
  return nouns.length < 2 ? last : `${nouns.slice(0, -1).join(", ")} or ${last}`;
}

/** What to do with it, in a sentence or two. */
function whatNow({ first, says, findings }: ReadingsJudgement): string {
  if (first === "normal" && says === "not-low")
    return `${FINDING_WORDS.normal.check} Up to about a quarter of the charge can be missing without any gauge showing it.`;
  if (first !== "undecided") return `${FINDING_WORDS[first].means} ${FINDING_WORDS[first].check}`;
  const [likeliest] = findings;
  if (says !== "undecided" && likeliest !== undefined) return FINDING_WORDS[likeliest.id].check;
  return "Don't add refrigerant based on this alone.";
}

function NextReading({ judgement, askable }: JudgementProps) {
  const [best, ...others] = judgement.next.filter(({ reading }) => askable === undefined || askable.has(reading));
  if (best === undefined) return null;
  const [one, other] = best.tells_apart.map((id) => FINDING_WORDS[id].noun);
  return (
    <Entry name="Next reading">
      <p>
        <a href={`#${READING_NAMES[best.reading].field}`}>{READING_NAMES[best.reading].take}</a> That will tell you the
        most: {one} or {other}.
      </p>
      {others.length > 0 && (
        <p class="small soft">
          After that:{" "}
          {others.slice(0, 3).map(({ reading }, i) => (
            <>
              {i > 0 && ", "}
              <a href={`#${READING_NAMES[reading].field}`}>{READING_NAMES[reading].short}</a>
            </>
          ))}
          .
        </p>
      )}
    </Entry>
  );
}

/** Where readings leave it open, what a shop would do that needs no reading of gauges. */
function AtAShop({ judgement: { first, says } }: JudgementProps) {
  if (first !== "undecided" && says !== "undecided") return null;
  return (
    <Entry name="If readings can't tell" note={<p>What a shop would do</p>}>
      <ul class="bullets">
        {SHOP_STEPS.map(({ step, why }) => (
          <li>
            <strong>{step}.</strong> {why}
          </li>
        ))}
      </ul>
    </Entry>
  );
}

/** Less likely causes stand in one folded list, without their evidence. */
const FAR_FETCHED = 0.05;

function Findings(props: JudgementProps) {
  const { findings } = props.judgement;
  const shown = findings.filter(({ probability }, i) => i === 0 || probability >= FAR_FETCHED);
  const others = findings.slice(shown.length);
  return (
    <>
      <ol class="findings">
        {shown.map((finding, i) => (
          <FindingItem finding={finding} beside={i === 0 ? null : shown[0]!} {...props} />
        ))}
      </ol>
      {others.length > 0 && (
        <details class="numbers">
          <summary>Less likely: {others.length} others</summary>
          <ul class="bullets">
            {others.map(({ id, probability }) => (
              <li>
                {FINDING_WORDS[id].name} <span class="finding-chance">{saidChance(probability)}</span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

/** One cause with its evidence. Evidence that the likeliest cause (`beside`) lists already is not repeated. */
function FindingItem({
  finding,
  beside,
  judgement,
  readings,
  gaugeStyle,
}: JudgementProps & { finding: Diagnosis; beside: Diagnosis | null }) {
  const { id, probability } = finding;
  const sentences = (side: "speaks_for" | "speaks_against") =>
    finding[side]
      .filter(({ feature }) => !beside?.[side].some((said) => said.feature === feature))
      .map((each) => saidEvidence(each, readings, judgement, gaugeStyle));
  const points_to = sentences("speaks_for");
  const points_away = sentences("speaks_against");
  return (
    <li class="finding">
      <h3>
        {FINDING_WORDS[id].name} <span class="finding-chance">{saidChance(probability)}</span>
      </h3>
      <svg class="finding-bar" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true" focusable="false">
        <path d="M0 2H100" class="finding-whole" />
        <path d={`M0 2H${(probability * 100).toFixed(1)}`} />
      </svg>
      <Evidences title="Points to it" sentences={points_to} />
      <Evidences title="Points away from it" sentences={points_away} />
      {points_to.length + points_away.length === 0 && (
        <p class="soft">
          {finding.speaks_for.length > 0 ? "The same readings point to it." : "No reading points either way."}
        </p>
      )}
    </li>
  );
}

function Evidences({ title, sentences }: { title: string; sentences: readonly string[] }) {
  if (sentences.length === 0) return null;
  return (
    <>
      <p class="speaks">{title}</p>
      <ul>
        {sentences.map((sentence) => (
          <li>{sentence}</li>
        ))}
      </ul>
    </>
  );
}

/** The pair as it was used: readings that contradict each other are not drawn. */
function usedPair({ problems }: ReadingsJudgement, readings: Readings): Readings {
  const dropped = problems.some(({ code }) => code === "low-above-high" || code === "engine-off");
  const beyond = new Set(
    problems.flatMap((problem) => (problem.code === "beyond-gauge" ? [problem.values.field] : [])),
  );
  return {
    ...readings,
    low_kpa: dropped || beyond.has("low_kpa") ? null : readings.low_kpa,
    high_kpa: dropped || beyond.has("high_kpa") ? null : readings.high_kpa,
  };
}

const [, WIDE_FROM_K] = bandLines["vent-over-evaporating"].lines;

function Temperatures({ judgement, gaugeStyle }: JudgementProps) {
  const { derived, expected } = judgement;
  const { evaporating_c, condensing_c, condensing_over_ambient_k, vent_minus_evaporating_k } = derived;
  const rows = [
    evaporating_c !== null && {
      name: "Evaporating",
      value: saidTemperature(gaugeStyle, evaporating_c),
      usual: `${saidTemperature(gaugeStyle, expected.evaporating_c.from)} to ${saidTemperature(gaugeStyle, expected.evaporating_c.to)}`,
    },
    condensing_c !== null && {
      name: "Condensing",
      value: saidTemperature(gaugeStyle, condensing_c),
      usual: `${saidTemperature(gaugeStyle, expected.condensing_c.from)} to ${saidTemperature(gaugeStyle, expected.condensing_c.to)}`,
    },
    condensing_over_ambient_k !== null &&
      condensing_c !== null && {
        name: "Condensing above outside air",
        value: saidDifference(gaugeStyle, condensing_over_ambient_k),
        usual: `${saidDifference(gaugeStyle, expected.condensing_c.from - condensing_c + condensing_over_ambient_k)} to ${saidDifference(gaugeStyle, expected.condensing_c.to - condensing_c + condensing_over_ambient_k)}`,
      },
    vent_minus_evaporating_k !== null && {
      name: "Vent above evaporating",
      value: saidDifference(gaugeStyle, vent_minus_evaporating_k),
      usual: `up to ${saidDifference(gaugeStyle, WIDE_FROM_K)}`,
    },
    derived.superheat_k !== null && {
      name: "Superheat",
      value: saidDifference(gaugeStyle, derived.superheat_k),
      usual: `${saidDifference(gaugeStyle, bandLines.superheat.lines[0])} to ${saidDifference(gaugeStyle, bandLines.superheat.lines[1])}`,
    },
    derived.subcooling_k !== null && {
      name: "Subcooling",
      value: saidDifference(gaugeStyle, derived.subcooling_k),
      usual: `${saidDifference(gaugeStyle, bandLines.subcooling.lines[0])} to ${saidDifference(gaugeStyle, bandLines.subcooling.lines[1])}`,
    },
  ].filter((row) => row !== false);
  if (rows.length === 0) return null;
  return (
    <table class="temperatures">
      <caption class="visually-hidden">Temperatures that follow from the pressures</caption>
      <TableHead words={["Calculated from the pressures"]} figures={["Now", "Normal"]} />
      <tbody>
        {rows.map(({ name, value, usual }) => (
          <tr>
            <th scope="row">{name}</th>
            <td class="figure-cell">{value}</td>
            <td class="figure-cell">{usual}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function StaticText({ standing, readings, gaugeStyle }: JudgementProps & { standing: StaticAnswer }) {
  const ambient = saidTemperature(gaugeStyle, readings.ambient_c);
  const liquid = saidPressure(gaugeStyle, standing.saturation_kpa);
  const mass = (grams: number) => formatAboutMass(grams, gaugeStyle.units);
  const bareMass = (grams: number) => withoutAbout(mass(grams));
  const { grams, state, saturated_at_c } = standing;
  return (
    <>
      <p>
        With the engine off at {ambient}, the gauges read {liquid} as long as any liquid is left,{" "}
        <strong>no matter how much</strong>.
      </p>
      {state === "liquid" && (
        <p>
          Yours does, so some liquid is left. The gauge can't show how much.
          {grams !== null && ` The vapor alone weighs ${mass(grams.likely)}.`}
        </p>
      )}
      {state === "no-liquid" && (
        <p>
          This reading is lower, so no liquid is left.
          {grams === null
            ? " Enter the nameplate charge to estimate how much vapor remains."
            : ` ${capital(mass(grams.likely))} of vapor is left${grams.from < grams.to ? ` (between ${bareMass(grams.from)} and ${bareMass(grams.to)}, by the size of the system)` : ""}.`}
        </p>
      )}
      {state === "above" && (
        <p>
          Yours is higher than refrigerant alone can be. Either there is other gas in it, most often air, or it is still
          warm from the engine
          {saturated_at_c !== null && ` (it would fit ${saidTemperature(gaugeStyle, saturated_at_c)})`}. Let it stand
          for some hours and read again.
        </p>
      )}
    </>
  );
}

function withoutAbout(said: string): string {
  return said.replace(/^about /, "");
}

function capital(words: string): string {
  return capitalized(words);
}

function Targets({ judgement: { expected }, readings, gaugeStyle }: JudgementProps) {
  return (
    <Entry name="Normal today" note={<p>{saidTemperature(gaugeStyle, readings.ambient_c)} outside air</p>}>
      <dl class="targets">
        <div>
          <dt>Low side, running</dt>
          <dd>{saidPressures(gaugeStyle, expected.low_kpa)}</dd>
        </div>
        <div>
          <dt>High side, running</dt>
          <dd>{saidPressures(gaugeStyle, expected.high_kpa)}</dd>
        </div>
        {readings.ambient_c >= coldDay.counts_nothing_below_c && (
          <div>
            <dt>Vent air</dt>
            <dd>{saidTemperature(gaugeStyle, expected.vent_below_c)} or colder</dd>
          </div>
        )}
      </dl>
      <p class="small soft">
        The ranges are wide because systems differ: for the same day, printed charts disagree by up to{" "}
        {saidPressureDifference(gaugeStyle, CHARTS_DISAGREE_KPA)} on the high side. Pressure alone is a poor guide to
        charge. Weight on a scale is reliable.
      </p>
    </Entry>
  );
}
