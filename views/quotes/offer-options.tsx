import type { Child } from "hono/jsx";
import { excludedBy, placePriceRange, type QuoteOption } from "../../src/core/quotes/quote.ts";
import type { OptionOutlook, OptionYears } from "../../src/core/quotes/quote-outlook.ts";
import { saidCo2e, saidRelease } from "../words/numbers.ts";
import { saidYears } from "../words/times.ts";
import type { OfferProps } from "./offer.tsx";
import { saidLikely, saidPrice, saidSureness, saidTotal } from "./said-quote.ts";

/** The options beside each other: what changes with the years kept. */
export function OptionsCompared({ snapshot, outlook, accepted }: OfferProps & { accepted: string | null }) {
  const most = Math.max(0, ...outlook.options.map(({ years }) => years?.total ?? 0));
  return (
    <div class="offers">
      {snapshot.options.map((option, i) => {
        const shown = outlook.options[i];
        return shown === undefined ? null : (
          <OfferedOption
            option={option}
            shown={shown}
            snapshot={snapshot}
            outlook={outlook}
            most={most}
            accepted={accepted === option.id}
          />
        );
      })}
    </div>
  );
}

interface OfferedOptionProps extends OfferProps {
  option: QuoteOption;
  shown: OptionOutlook;
  /** The largest total of all options: the bars of all are drawn to it. */
  most: number;
  accepted: boolean;
}

function OfferedOption({ option, shown, snapshot, outlook, most, accepted }: OfferedOptionProps) {
  const { years, price } = shown;
  const sure = years === null || outlook.check_first ? null : saidSureness(years.sure, outlook.keep_years);
  const over = saidYears(outlook.keep_years);
  const recommended = snapshot.recommended === option.id;
  return (
    <article class={recommended ? "offer offer-recommended" : "offer"} aria-labelledby={`offer-${option.id}`}>
      <div class="offer-name">
        <h3 id={`offer-${option.id}`}>{option.title}</h3>
        {recommended && <p class="offer-mark">We recommend this</p>}
        {accepted && <p class="offer-mark">✓ Accepted</p>}
      </div>
      <p class="offer-words">{option.words}</p>
      <dl>
        <Row name="Price today" strong>
          <PriceToday option={option} total_minor={price.total_minor} snapshot={snapshot} />
        </Row>
        {years === null ? (
          <Row name={`Over ${over}`}>Not estimated for this work.</Row>
        ) : (
          <>
            <Row name={`Today and later, over ${over}`} strong>
              {saidTotal(years, shown, option, snapshot)}
              <small>{saidLikely(years, shown, option, snapshot)}</small>
              <TodayAndLater years={years} most={most} />
            </Row>
            <Row name="Refrigerant to air">
              {saidRelease(years.release_g, snapshot.units)}
              <small>warms like {saidCo2e(years.co2e_kg)} of CO₂</small>
            </Row>
            {sure !== null && <Row name="How sure">{sure}</Row>}
          </>
        )}
        <Remarks option={option} shown={shown} snapshot={snapshot} outlook={outlook} />
      </dl>
    </article>
  );
}

function Row({ name, strong = false, children }: { name: string; strong?: boolean; children: Child }) {
  return (
    <div class={strong ? "offer-row offer-row-strong" : "offer-row"}>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

/** What is paid today: one price, or the prices by where it leaks. */
function PriceToday({
  option,
  total_minor,
  snapshot,
}: { option: QuoteOption; total_minor: number } & Pick<OfferProps, "snapshot">) {
  const range = placePriceRange(option, total_minor);
  return (
    <>
      {saidPrice(option, total_minor, snapshot)}
      {range !== null && <small>by where it leaks; we ask you first</small>}
    </>
  );
}

/** A bar of what is paid today and, lighter, of what follows on average; all options to one scale. */
function TodayAndLater({ years, most }: { years: OptionYears; most: number }) {
  if (most <= 0) return null;
  const total = (100 * years.total) / most;
  const today = Math.min(total, (100 * Math.max(0, years.total - years.later)) / most);
  return (
    <svg class="offer-bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
      <rect class="offer-bar-later" width={total.toFixed(1)} height="6" />
      <rect class="offer-bar-today" width={today.toFixed(1)} height="6" />
    </svg>
  );
}

/** The key of the two shades of the bars. */
export function BarKey() {
  return (
    <p class="offer-key small" aria-hidden="true">
      <span class="offer-key-today" /> paid today <span class="offer-key-later" /> later, on average
    </p>
  );
}

/** What it covers and what not, what it includes, and why it may not be a choice at all. */
function Remarks({ option, shown, snapshot, outlook }: Omit<OfferedOptionProps, "most" | "accepted">) {
  const { options, warranty } = snapshot;
  const titles = (ids: readonly string[]) =>
    options.filter(({ id }) => ids.includes(id)).map(({ title }) => `“${title}”`);
  const replaced = titles(option.replaces);
  const excluded = titles(excludedBy(option.id, options));
  const remarks = [
    option.not_covered !== "" && `Not covered: ${option.not_covered}`,
    option.work.repair !== null && warranty.months > 0 && `${warranty.months} months' warranty.`,
    replaced.length > 0 && `Includes what ${listed(replaced)} would do.`,
    excluded.length > 0 && `Cannot be combined with ${listed(excluded)}.`,
    shown.not_open_because !== null && WHY_NOT[shown.not_open_because],
    outlook.not_needed === true && option.work.recharge && "By the record it is not needed today.",
    outlook.check_first &&
      option.work.recharge &&
      "It may not be low on refrigerant: this may not bring the cooling back.",
  ].filter((remark) => remark !== false);
  if (remarks.length === 0) return null;
  return (
    <Row name="Good to know">
      <ul>
        {remarks.map((remark) => (
          <li>{remark}</li>
        ))}
      </ul>
    </Row>
  );
}

const WHY_NOT = {
  rule: "Local rules may not allow this: ask us before you choose it.",
  empty: "No pressure is left: the leak has to be found first, then the system evacuated and charged by weight.",
  floor: "This leak is fast: a full charge may not last half a year.",
  done: "This test was made before.",
} as const;

function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}
