import { locationParameters } from "../../data/parameters.ts";
import {
  LEAK_TESTS,
  type LeakTest,
  LOOKED_EVERYWHERE,
  OTHER_TESTS,
  type OtherTestId,
  PLACES_TO_LOOK,
} from "../../data/tests.ts";
import { LOCATION_IDS, type LocationId, type TestId } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { saidChance } from "../words/numbers.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Unbroken } from "../words/said.tsx";

/** `/leak-tests`: how to look for the leak, by test and by place. */
export function LeakTestsPage({ asset }: { asset: AssetUrl }) {
  return (
    <Layout
      title="How to look for the leak"
      path="/leak-tests"
      asset={asset}
      description="How to do a visual inspection, a dye test and an electronic leak test on a vehicle's air conditioner, where to look, and what a leak looks like."
    >
      <h1 class="page-title">How to look for the leak</h1>
      <p class="page-lead">
        Start with the visual inspection: it is free. Record what you find, and also what you checked and found clean.
      </p>
      <TestEntry id="visual" test={LEAK_TESTS.visual} open />
      <TestEntry id="bubbles" test={OTHER_TESTS.bubbles} />
      <TestEntry id="dye" test={LEAK_TESTS.dye} />
      <TestEntry id="electronic" test={LEAK_TESTS.electronic} />
      <h2 class="part-title">For shops: with the system empty</h2>
      <p class="page-lead">
        These need a recovery machine and gas under high pressure. They are work for certified technicians; your local
        code says who.
      </p>
      <TestEntry id="vacuum" test={OTHER_TESTS.vacuum} />
      <TestEntry id="nitrogen" test={OTHER_TESTS.nitrogen} />
      <TestEntry id="tracer" test={OTHER_TESTS.tracer} />
      <Entry name="Where to look" note={<p>And what a leak looks like there</p>}>
        {LOCATION_IDS.map((id) => (
          <PlaceToLook id={id} />
        ))}
        <p>{LOOKED_EVERYWHERE}</p>
      </Entry>
    </Layout>
  );
}

/** The free one first. */
const LOOK_ORDER: readonly TestId[] = ["visual", "dye", "electronic"];

interface TestEntryProps {
  id: TestId | OtherTestId;
  test: LeakTest;
  /** Whether its steps are in sight at once: those of the test to begin with. */
  open?: boolean;
}

/** What a test is; its steps unfold together with the caution of each, and are all there on paper. */
function TestEntry({ id, test, open = false }: TestEntryProps) {
  const { name, what, needs, steps, positive, clean, limits, source } = test;
  return (
    <Entry name={name} id={id}>
      <p>
        <Unbroken text={what} />
      </p>
      <details class="folded on-paper" open={open}>
        <summary>
          How to do it<span class="visually-hidden">: {name}</span>
        </summary>
        <p>
          <strong>You need</strong> {needs.join(", ")}.
        </p>
        <ol class="steps">
          {steps.map(({ does, caution }) => (
            <li>
              <p>{does}</p>
              {caution !== null && <p class="step-caution">{caution}</p>}
            </li>
          ))}
        </ol>
        <dl class="signs">
          <div>
            <dt>A leak</dt>
            <dd>{positive}</dd>
          </div>
          <div>
            <dt>Clean</dt>
            <dd>{clean}</dd>
          </div>
          <div>
            <dt>What it misses</dt>
            <dd>
              <Unbroken text={limits} />
            </dd>
          </div>
          {id in LEAK_TESTS && (
            <div>
              <dt>Finds it</dt>
              <dd>{findsIt(id as TestId)}</dd>
            </div>
          )}
        </dl>
        <p class="small soft">{source}</p>
      </details>
    </Entry>
  );
}

/** How often a test shows a leak that is there, at the hardest location and the easiest: as the answer counts it. */
function findsIt(test: TestId): string {
  const ranked = LOCATION_IDS.toSorted((a, b) => locationParameters[a][test] - locationParameters[b][test]);
  const [hardest, easiest] = [ranked[0]!, ranked.at(-1)!];
  const said = (id: LocationId) => `${saidChance(locationParameters[id][test])} leaks at ${PLACE_NAMES[id].at}`;
  return `About ${said(hardest)}, up to ${said(easiest)}; fewer tiny ones. Working assumption.`;
}

function PlaceToLook({ id }: { id: (typeof LOCATION_IDS)[number] }) {
  const { where, positive, caution } = PLACES_TO_LOOK[id];
  return (
    <details class="place-to-look on-paper">
      <summary>{PLACE_NAMES[id].name}</summary>
      <p>{where}</p>
      {caution !== null && <p class="step-caution">{caution}</p>}
      <dl class="signs">
        {LOOK_ORDER.map((test) => (
          <div>
            <dt>{LEAK_TESTS[test].name}</dt>
            <dd>{positive[test]}</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
