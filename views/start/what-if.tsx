import type { Child } from "hono/jsx";
import { planParameters } from "../../data/parameters.ts";
import { currencySign } from "../../src/core/quantities/number-text.ts";
import type { Outcome } from "../answer/outcome.ts";
import { Entry, FoldedEntry } from "../parts/entry.tsx";
import { fieldOf, type Messages, SelectField, TextField } from "../parts/field.tsx";
import { saidYears } from "../words/times.ts";
import { floorChoices, PLACE_CHOICES, type WhatIfFields } from "./quick-fields.ts";

interface WhatIfProps {
  fields: WhatIfFields;
  messages: Messages;
  outcome: Outcome | null;
  /** What its money is in, ISO 4217. */
  currency: string;
  /** The address of the same question with something changed. */
  addressWith: (changes: Partial<WhatIfFields>) => string;
  /** What a change is swapped into. */
  target: `#${string}`;
  /** Closed under its name, unless something is supposed already; else in sight. */
  folded?: { open: boolean } | undefined;
  /** Which of `MORE_WHAT_IFS` are supposed: named where they stand folded. */
  more: readonly MoreWhatIf[];
}

const YEARS_TRIED = [1, 2, 5, 10];

/** Asked for by few: folded. */
export const MORE_WHAT_IFS = ["place", "floor", "carbon"] as const;
type MoreWhatIf = (typeof MORE_WHAT_IFS)[number];

const MORE_NAMES: Readonly<Record<MoreWhatIf, string>> = {
  place: "where it leaks",
  floor: "how long a charge must last",
  carbon: "price of CO₂e",
};

/** Changes to try beside the answer; each is in the address, so the back button takes it back. */
export function WhatIf(props: WhatIfProps) {
  const { folded } = props;
  if (folded !== undefined) {
    return (
      <FoldedEntry name="What if" count="nothing is saved" history={null} id="what-if" open={folded.open}>
        <WhatIfFieldsShown {...props} />
      </FoldedEntry>
    );
  }
  return (
    <Entry name="What if" id="what-if" note={<p>Try another value. The back button undoes it.</p>}>
      <WhatIfFieldsShown {...props} />
    </Entry>
  );
}

function WhatIfFieldsShown(props: WhatIfProps) {
  const { fields, messages, outcome, currency, addressWith, target } = props;
  const kept = outcome?.question.plan.keep_years;
  const years = [...new Set([...YEARS_TRIED, ...(kept === undefined ? [] : [kept])])].toSorted((a, b) => a - b);
  const of = fieldOf(fields, messages);
  return (
    <>
      <p class="echo" id="what-if-echo" role="status" hx-morph-skip="" />
      <div class="what-if">
        <Tries
          target={target}
          label="Years it is kept"
          tries={years.map((value) => ({
            label: (
              <>
                {value}
                <span class="visually-hidden"> {value === 1 ? "year" : "years"}</span>
              </>
            ),
            echo: `Kept for ${saidYears(value)}`,
            href: addressWith({ keep: String(value) }),
            current: value === kept,
          }))}
        />
        <Tries
          target={target}
          label="Topped off by"
          tries={(["diy", "shop"] as const).map((service) => ({
            label: service === "diy" ? "you" : "a shop",
            echo: service === "diy" ? "Topped off by you" : "With a shop",
            href: addressWith({ service }),
            current: service === outcome?.question.plan.service,
          }))}
        />
        <TextField
          {...of("quote")}
          label={`A repair quote, in ${currencySign(currency)}`}
          hint="All in, like 850"
          short
          inputmode="decimal"
        />
      </div>
      <MoreWhatIfs {...props} />
      <noscript>
        <p>
          <button type="submit" class="button" name="go" value="1">
            Show the answer
          </button>
        </p>
      </noscript>
    </>
  );
}

/** What few ask for, folded; the summary names what is set. */
function MoreWhatIfs({ fields, messages, currency, more }: WhatIfProps) {
  const more_set = more.map((name) => MORE_NAMES[name]);
  const floor = fields.floor || String(planParameters.floor_months.default);
  const of = fieldOf({ ...fields, floor }, messages);
  return (
    <details class="fold-in" id="what-if-more" open={MORE_WHAT_IFS.some((name) => messages.has(name))}>
      <summary>
        More to try
        {more_set.length > 0 && <span class="soft"> · set: {more_set.join(", ")}</span>}
      </summary>
      <div class="what-if">
        <SelectField {...of("place")} label="Where it leaks" choices={PLACE_CHOICES} />
        <SelectField {...of("floor")} label="A full charge must last at least" choices={floorChoices(floor)} />
        <TextField
          {...of("carbon")}
          label={`Price of a metric ton of CO₂e, in ${currencySign(currency)}`}
          hint="Like 190; empty leaves it out"
          short
          inputmode="decimal"
        />
      </div>
    </details>
  );
}

interface Try {
  label: Child;
  /** What was tried, beside what it made of the answer. */
  echo: string;
  href: string;
  current: boolean;
}

function Tries({ label, tries, target }: { label: string; tries: readonly Try[]; target: string }) {
  return (
    <div class="field">
      <span class="label">{label}</span>
      <ul class="tries">
        {tries.map((one) => (
          <li>
            {one.current ? (
              <strong aria-current="true">{one.label}</strong>
            ) : (
              <a href={one.href} data-echo={one.echo} hx-get={one.href} hx-target={target} hx-swap="innerMorph">
                {one.label}
              </a>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}
