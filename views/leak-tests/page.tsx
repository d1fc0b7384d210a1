import { LEAK_TESTS, LOOKED_EVERYWHERE, PLACES_TO_LOOK } from "../../data/tests.ts";
import { LOCATION_IDS, type TestId } from "../../src/core/question/contract.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { PLACE_NAMES } from "../words/places.ts";

/** `/leak-tests`: how to look for the leak, by test and by place. */
export function LeakTestsPage({ asset }: { asset: AssetUrl }) {
  return (
    <Layout
      title="How to look for the leak · Seepwise"
      path="/leak-tests"
      asset={asset}
      description="How to do a visual inspection, a dye test and an electronic leak test on a vehicle's air conditioner, where to look, and what a leak looks like."
    >
      <h1 class="page-title">How to look for the leak</h1>
      <p class="page-lead">
        Start with the visual inspection: it is free. Write down what you find, and what you looked at and found clean:
        both make the next decision better.
      </p>
      {LOOK_ORDER.map((id) => (
        <TestEntry id={id} />
      ))}
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

function TestEntry({ id }: { id: TestId }) {
  const { name, what, needs, steps, positive, clean, limits } = LEAK_TESTS[id];
  return (
    <Entry name={name} id={id}>
      <p>{what}</p>
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
          <dd>{limits}</dd>
        </div>
      </dl>
    </Entry>
  );
}

function PlaceToLook({ id }: { id: (typeof LOCATION_IDS)[number] }) {
  const { where, positive, caution } = PLACES_TO_LOOK[id];
  return (
    <article class="place-to-look">
      <h3>{PLACE_NAMES[id].name}</h3>
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
    </article>
  );
}
