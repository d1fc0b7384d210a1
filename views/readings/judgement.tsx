import { bandLines } from "../../data/readings-table.ts";
import { formatAboutMass } from "../../src/core/quantities/format.ts";
import type {
  Finding,
  ReadingId,
  Readings,
  ReadingsJudgement,
  StaticAnswer,
} from "../../src/core/readings/contract.ts";
import { Entry } from "../parts/entry.tsx";
import { saidChance } from "../words/numbers.ts";
import { FINDING_WORDS } from "./finding-words.ts";
import { GaugeDiagram } from "./gauge-diagram.tsx";
import { READING_NAMES } from "./reading-names.ts";
import {
  type Sayer,
  saidDifference,
  saidEvidence,
  saidPressure,
  saidPressures,
  saidProblem,
  saidTemperature,
} from "./said-readings.ts";

export interface JudgementProps {
  judgement: ReadingsJudgement;
  readings: Readings & { ambient_c: number };
  sayer: Sayer;
  /** Readings that the form on this page asks for; all of them, unless given. */
  askable?: ReadonlySet<ReadingId>;
}

/** What the readings say, in the order in which someone at the car wants it. */
export function Judgement(props: JudgementProps) {
  const { judgement, readings, sayer } = props;
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
              <li>{saidProblem(problem, sayer)}</li>
            ))}
          </ul>
        </Entry>
      )}
      <NextReading {...props} />
      <Entry name="Findings" note={<p>Out of 100 systems with these readings</p>}>
        <Findings {...props} />
      </Entry>
      <Entry name="The two sides">
        <GaugeDiagram
          readings={usedPair(judgement, readings)}
          expected={judgement.expected}
          sayer={sayer}
          ambient={saidTemperature(sayer, readings.ambient_c)}
        />
        <Temperatures {...props} />
      </Entry>
      {judgement.static !== null && (
        <Entry name="Static pressure">
          <StaticText standing={judgement.static} {...props} />
        </Entry>
      )}
      <Targets {...props} />
    </>
  );
}

/** A finding that is this likely is named in the sentence that leaves it open. */
const STILL_OPEN = 0.1;

/** What the readings say, in a sentence or two. */
export function verdictSentence({ first, says, findings }: ReadingsJudgement): string {
  if (first === "undecided") {
    if (says === "low") return "It is low, or nearly empty.";
    const open = findings.filter(({ probability }) => probability >= STILL_OPEN).map(({ id }) => FINDING_WORDS[id].as);
    if (says === "not-low") return `It is not low. ${capital(open.join(", or "))}.`;
    return "These readings do not decide yet.";
  }
  const { as } = FINDING_WORDS[first];
  if (first === "low-charge")
    return says === "low" ? "It is low on charge." : "It is low on charge, more likely than not.";
  if (first === "nearly-empty") return "It is nearly empty: no liquid is left.";
  if (first === "normal")
    return says === "not-low"
      ? "It reads normal. Low charge is not the trouble."
      : "It reads normal so far, and may still be low.";
  return says === "not-low"
    ? `Check first: ${as}. Low charge is not the trouble.`
    : `${capital(as)}, most likely; low charge is not ruled out.`;
}

/** What to do with it, in a sentence or two. */
function whatNow({ first, says, findings, next }: ReadingsJudgement): string {
  if (first !== "undecided") return `${FINDING_WORDS[first].means} ${FINDING_WORDS[first].check}`;
  const [likeliest] = findings;
  if (says !== "undecided" && likeliest !== undefined) return FINDING_WORDS[likeliest.id].check;
  const reading = next[0]?.reading;
  const take = reading === undefined ? "" : ` ${READING_NAMES[reading].take}`;
  return `Add nothing on this alone.${take}`;
}

function NextReading({ judgement, askable }: JudgementProps) {
  const [best, ...others] = judgement.next.filter(({ reading }) => askable === undefined || askable.has(reading));
  if (best === undefined) return null;
  return (
    <Entry name="Next reading">
      <p>
        <a href={`#${READING_NAMES[best.reading].field}`}>{READING_NAMES[best.reading].take}</a> It would tell most.
      </p>
      {others.length > 0 && (
        <p class="small soft">
          After that:{" "}
          {others.slice(0, 3).map(({ reading }, i) => (
            <>
              {i > 0 && ", "}
              <a href={`#${READING_NAMES[reading].field}`}>{SHORT_NAMES[reading]}</a>
            </>
          ))}
          .
        </p>
      )}
    </Entry>
  );
}

const SHORT_NAMES = {
  static: "static pressure",
  low: "low side",
  high: "high side",
  vent: "vent air",
  clutch: "clutch",
  fan: "condenser fan",
  condenser: "condenser face",
  "more-air": "high side with more air",
} as const;

/** The first three, and any other that is not far-fetched, stand open. */
const FAR_FETCHED = 0.05;
const SHOWN_AT_LEAST = 3;

function Findings(props: JudgementProps) {
  const { findings } = props.judgement;
  const shown = findings.filter(({ probability }, i) => i < SHOWN_AT_LEAST || probability >= FAR_FETCHED);
  const others = findings.slice(shown.length);
  return (
    <>
      <ol class="findings">
        {shown.map((finding) => (
          <FindingItem finding={finding} {...props} />
        ))}
      </ol>
      {others.length > 0 && (
        <details class="numbers">
          <summary>Less likely: {others.map(({ id }) => FINDING_WORDS[id].name.toLowerCase()).join(", ")}</summary>
          <ol class="findings" start={shown.length + 1}>
            {others.map((finding) => (
              <FindingItem finding={finding} {...props} />
            ))}
          </ol>
        </details>
      )}
    </>
  );
}

function FindingItem({ finding, judgement, readings, sayer }: JudgementProps & { finding: Finding }) {
  const { id, probability, speaks_for, speaks_against } = finding;
  const sentences = (evidence: typeof speaks_for) =>
    evidence.map((each) => <li>{saidEvidence(each, readings, judgement, sayer)}</li>);
  return (
    <li class="finding">
      <h3>
        {FINDING_WORDS[id].name} <span class="finding-chance">{saidChance(probability)}</span>
      </h3>
      <svg class="finding-bar" viewBox="0 0 100 4" preserveAspectRatio="none" aria-hidden="true" focusable="false">
        <path d="M0 2H100" class="finding-whole" />
        <path d={`M0 2H${(probability * 100).toFixed(1)}`} />
      </svg>
      {speaks_for.length > 0 && (
        <>
          <p class="speaks">Speaks for it</p>
          <ul>{sentences(speaks_for)}</ul>
        </>
      )}
      {speaks_against.length > 0 && (
        <>
          <p class="speaks">Speaks against it</p>
          <ul>{sentences(speaks_against)}</ul>
        </>
      )}
      {speaks_for.length + speaks_against.length === 0 && <p class="soft">No reading speaks for it or against it.</p>}
    </li>
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

function Temperatures({ judgement, sayer }: JudgementProps) {
  const { derived, expected } = judgement;
  const { evaporating_c, condensing_c, condensing_over_ambient_k, vent_minus_evaporating_k } = derived;
  const rows = [
    evaporating_c !== null && {
      name: "Evaporating",
      value: saidTemperature(sayer, evaporating_c),
      usual: `${saidTemperature(sayer, expected.evaporating_c.from)} to ${saidTemperature(sayer, expected.evaporating_c.to)}`,
    },
    condensing_c !== null && {
      name: "Condensing",
      value: saidTemperature(sayer, condensing_c),
      usual: `${saidTemperature(sayer, expected.condensing_c.from)} to ${saidTemperature(sayer, expected.condensing_c.to)}`,
    },
    condensing_over_ambient_k !== null &&
      condensing_c !== null && {
        name: "Condensing over ambient",
        value: saidDifference(sayer, condensing_over_ambient_k),
        usual: `${saidDifference(sayer, expected.condensing_c.from - condensing_c + condensing_over_ambient_k)} to ${saidDifference(sayer, expected.condensing_c.to - condensing_c + condensing_over_ambient_k)}`,
      },
    vent_minus_evaporating_k !== null && {
      name: "Vent over evaporating",
      value: saidDifference(sayer, vent_minus_evaporating_k),
      usual: `up to ${saidDifference(sayer, WIDE_FROM_K)}`,
    },
  ].filter((row) => row !== false);
  if (rows.length === 0) return null;
  return (
    <table class="temperatures">
      <caption class="visually-hidden">Temperatures that follow from the pressures</caption>
      <thead>
        <tr>
          <th scope="col">Follows from the pressures</th>
          <th scope="col" class="figure-cell">
            Now
          </th>
          <th scope="col" class="figure-cell">
            Expected
          </th>
        </tr>
      </thead>
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

function StaticText({ standing, readings, sayer }: JudgementProps & { standing: StaticAnswer }) {
  const ambient = saidTemperature(sayer, readings.ambient_c);
  const liquid = saidPressure(sayer, standing.saturation_kpa);
  const mass = (grams: number) => formatAboutMass(grams, sayer.units);
  const { grams, state, saturated_at_c } = standing;
  return (
    <>
      <p>
        At {ambient}, as long as any liquid is left, a standing system reads {liquid},{" "}
        <strong>whatever the amount</strong>.
      </p>
      {state === "liquid" && (
        <p>
          It reads that, so liquid is present. How much cannot be told from this gauge.
          {grams !== null && ` It is at least ${mass(grams.likely)}, the vapor alone.`}
        </p>
      )}
      {state === "no-liquid" && (
        <p>
          By this reading no liquid is left: it is less.
          {grams === null
            ? " With the nameplate charge the grams left could be worked out."
            : ` ${capital(mass(grams.likely))} of vapor is left${grams.from < grams.to ? ` (between ${bare(mass(grams.from))} and ${bare(mass(grams.to))}, by the size of the system)` : ""}.`}
        </p>
      )}
      {state === "above" && (
        <p>
          It reads more than refrigerant alone can at this temperature. Either other gas is in it, most often air, or it
          is still warm from the engine
          {saturated_at_c !== null && ` (it would fit ${saidTemperature(sayer, saturated_at_c)})`}. Let it stand for
          some hours and read again.
        </p>
      )}
    </>
  );
}

function bare(said: string): string {
  return said.replace(/^about /, "");
}

function capital(words: string): string {
  return words[0]!.toUpperCase() + words.slice(1);
}

function Targets({ judgement: { expected }, readings, sayer }: JudgementProps) {
  return (
    <Entry name="Expected today" note={<p>{saidTemperature(sayer, readings.ambient_c)} ambient</p>}>
      <dl class="targets">
        <div>
          <dt>Low side, running</dt>
          <dd>{saidPressures(sayer, expected.low_kpa)}</dd>
        </div>
        <div>
          <dt>High side, running</dt>
          <dd>{saidPressures(sayer, expected.high_kpa)}</dd>
        </div>
        <div>
          <dt>Vent air</dt>
          <dd>{saidTemperature(sayer, expected.vent_below_c)} or colder</dd>
        </div>
      </dl>
      <p class="small soft">
        The ranges are wide because systems differ: one printed chart stands up to 58 psi above another on the same day.
        Pressure is a weak sign of charge. Weight on a scale is the strong one.
      </p>
    </Entry>
  );
}
