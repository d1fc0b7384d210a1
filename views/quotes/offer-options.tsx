import type { Child } from "hono/jsx";
import { excludedBy, placePriceRange, type QuoteOption } from "../../src/core/quotes/quote.ts";
import type { OptionOutlook, OptionYears } from "../../src/core/quotes/quote-outlook.ts";
import type { CustomerSaid } from "./customer-said.tsx";
import type { OfferProps } from "./offer.tsx";
import { saidLikely, saidPrice, saidSureness, saidTotal } from "./said-quote.ts";

/** The options beside each other: what changes with the years kept. */
export function OptionsCompared({ snapshot, outlook, said, accepted }: OfferProps & { accepted: string | null }) {
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
            said={said}
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

function OfferedOption(props: OfferedOptionProps) {
  const { option, shown, snapshot, outlook, said, most, accepted } = props;
  const { years, price } = shown;
  const sure = years === null || outlook.check_first ? null : saidSureness(years.sure, outlook.keep_years, said);
  const over = { years: said.years(outlook.keep_years) };
  const priced = { option, shown, currency: snapshot.currency };
  const recommended = snapshot.recommended === option.id;
  return (
    <article class={recommended ? "offer offer-recommended" : "offer"} aria-labelledby={`offer-${option.id}`}>
      <div class="offer-name">
        <h3 id={`offer-${option.id}`}>{option.title}</h3>
        {recommended && <p class="offer-mark">{said.word("options.recommended")}</p>}
        {accepted && <p class="offer-mark">{said.word("options.accepted")}</p>}
      </div>
      <p class="offer-words">{option.words}</p>
      <dl>
        <Row name={said.word("options.today")} strong>
          <PriceToday option={option} total_minor={price.total_minor} said={said} />
        </Row>
        {years === null ? (
          <Row name={said.word("options.over", over)}>{said.word("options.not-estimated")}</Row>
        ) : (
          <>
            <Row name={said.word("options.today-and-later", over)} strong>
              {saidTotal(years, priced, said)}
              <small>{saidLikely(years, priced, said)}</small>
              <TodayAndLater years={years} most={most} />
            </Row>
            <Row name={said.word("options.to-air")}>
              {said.release(years.release_g)}
              <small>{said.word("options.warms-like", { co2e: said.co2e(years.co2e_kg) })}</small>
            </Row>
            {sure !== null && <Row name={said.word("options.how-sure")}>{sure}</Row>}
          </>
        )}
        <Remarks option={option} shown={shown} snapshot={snapshot} outlook={outlook} said={said} />
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
function PriceToday({ option, total_minor, said }: { option: QuoteOption; total_minor: number; said: CustomerSaid }) {
  const range = placePriceRange(option, total_minor);
  return (
    <>
      {saidPrice(option, total_minor, said)}
      {range !== null && <small>{said.word("options.by-place")}</small>}
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
export function BarKey({ said }: { said: CustomerSaid }) {
  return (
    <p class="offer-key small" aria-hidden="true">
      <span class="offer-key-today" /> {said.word("options.key-today")} <span class="offer-key-later" />{" "}
      {said.word("options.key-later")}
    </p>
  );
}

/** What it covers and what not, what it includes, and why it may not be a choice at all. */
function Remarks({ option, shown, snapshot, outlook, said }: Omit<OfferedOptionProps, "most" | "accepted">) {
  const { options, warranty } = snapshot;
  const titles = (ids: readonly string[]) =>
    said.list(options.filter(({ id }) => ids.includes(id)).map(({ title }) => said.word("quoted", { text: title })));
  const replaced = titles(option.replaces);
  const excluded = titles(excludedBy(option.id, options));
  const remarks = [
    option.not_covered !== "" && said.word("remark.not-covered", { text: option.not_covered }),
    option.work.repair !== null && warranty.months > 0 && said.counted("remark.warranty", warranty.months),
    replaced !== "" && said.word("remark.includes", { titles: replaced }),
    excluded !== "" && said.word("remark.excludes", { titles: excluded }),
    shown.not_open_because !== null && said.word(`closed.${shown.not_open_because}`),
    outlook.not_needed === true && option.work.recharge && said.word("remark.not-needed"),
    outlook.check_first && option.work.recharge && said.word("remark.may-not-help"),
  ].filter((remark) => remark !== false);
  if (remarks.length === 0) return null;
  return (
    <Row name={said.word("options.good-to-know")}>
      <ul>
        {remarks.map((remark) => (
          <li>{remark}</li>
        ))}
      </ul>
    </Row>
  );
}
