import { LINE_KIND_NAMES } from "../../data/quote-words.ts";
import { formatAmount } from "../../src/core/quantities/money.ts";
import { LINE_KINDS, type QuoteOption, TAX_CLASSES } from "../../src/core/quotes/quote.ts";
import type { OptionOutlook } from "../../src/core/quotes/quote-outlook.ts";
import { Entry } from "../parts/entry.tsx";
import { ErrorText, fieldOf, SelectField, TextAreaField, TextField } from "../parts/field.tsx";
import { Folded } from "../parts/folded.tsx";
import { saidYears } from "../words/times.ts";
import type { MoneyStyle } from "./money-style.ts";
import { type LineFields, lineInput, type OptionFields, optionInput } from "./quote-fields.ts";
import { leastToday, saidSum } from "./said-quote.ts";

interface BuilderOptionProps {
  /** The path for its buttons. */
  path: string;
  fields: OptionFields;
  /** Its place in the quote, from 0. */
  place: number;
  others: readonly OptionFields[];
  /** Lines of the shop's own that its book has. */
  own_lines: readonly { n: string; text: string }[];
  /** The option as last read. */
  content: QuoteOption | undefined;
  shown: OptionOutlook | undefined;
  advised: boolean;
  /** Its total before it was just repriced; null where it was not. */
  was_minor: number | null;
  keep_years: number;
  currency: string;
  money: MoneyStyle;
  messages: ReadonlyMap<string, string>;
}

/** One option in the builder: its texts, its lines and its total. */
export function BuilderOption(props: BuilderOptionProps) {
  const { path, fields, place, others, content, shown, advised, was_minor, keep_years, currency, money, messages } =
    props;
  const amount = (minor: number) => formatAmount(minor, currency, money.number_format);
  const { id } = fields;
  const of = fieldOf(fields, messages, (part: "title" | "words" | "not_covered" | "discount") => optionInput(id, part));
  return (
    <Entry
      name={`Option ${place + 1}`}
      note={
        <>
          {advised && <p>The model's choice</p>}
          {shown?.not_open_because != null && <p>{NOT_OPEN[shown.not_open_because]}</p>}
        </>
      }
      id={`option-${id}`}
    >
      <input type="hidden" name="option" value={id} />
      <div class="option-words">
        <TextField {...of("title")} label="Name" words />
        <TextAreaField {...of("words")} label="In words for the customer" rows={2} />
      </div>
      {was_minor !== null && shown !== undefined && (
        <p class="note" role="status">
          {was_minor === shown.price.total_minor
            ? `Its lines are reset; the total stays ${amount(was_minor)}.`
            : `Its lines are reset: ${amount(was_minor)} before, ${amount(shown.price.total_minor)} now.`}
        </p>
      )}
      <OptionLines {...props} />
      <Folded title="Discount, what it covers, what it goes with, removal" open={isFoldedFilled(props)}>
        <div class="field-grid">
          <TextField
            {...of("discount")}
            label="Discount on all of it"
            hint={`Like 10 %, or an amount in ${currency}`}
            short
          />
          <TextField {...of("not_covered")} label="Not covered" words />
        </div>
        {others.length > 0 && (
          <div class="field-grid">
            <Relation {...props} part="replaces" legend="It replaces" />
            <Relation {...props} part="excludes" legend="It does not go with" />
          </div>
        )}
        <p class="actions">
          <button type="submit" class="button-quiet" formaction={`${path}/removal`}>
            Remove the option<span class="visually-hidden"> {place + 1}</span>
          </button>
        </p>
      </Folded>
      {shown !== undefined && (
        <dl class="option-sums">
          <div>
            <dt>Before tax</dt>
            <dd>{formatAmount(shown.price.net_minor, currency, money.number_format)}</dd>
          </div>
          {shown.price.taxes.map(({ name, tax_minor }) => (
            <div>
              <dt>{name}</dt>
              <dd>{formatAmount(tax_minor, currency, money.number_format)}</dd>
            </div>
          ))}
          <div class="option-total">
            <dt>To pay today</dt>
            <dd>{formatAmount(shown.price.total_minor, currency, money.number_format)}</dd>
          </div>
          {shown.years !== null && content !== undefined && (
            <div>
              <dt>Over {saidYears(keep_years)}, about</dt>
              <dd>{saidSum(shown.years.total, money, leastToday({ option: content, shown, currency }))}</dd>
            </div>
          )}
        </dl>
      )}
    </Entry>
  );
}

/** The lines, folded behind their number and what they come to, which stays in sight above them. */
function OptionLines({
  path,
  fields,
  place,
  own_lines,
  shown,
  was_minor,
  currency,
  money,
  messages,
}: BuilderOptionProps) {
  const { id, lines } = fields;
  const too_many = messages.get(`add-line-${id}`);
  const wrong =
    too_many !== undefined || lines.some(({ n }) => LINE_PARTS.some((part) => messages.has(lineInput(id, n, part))));
  const count = lines.length === 1 ? "1 line" : `${lines.length} lines`;
  const total = shown === undefined ? "" : `: ${formatAmount(shown.price.total_minor, currency, money.number_format)}`;
  return (
    <Folded
      id={`lines-${id}`}
      title={`${count}${total}`}
      open={wrong || was_minor !== null || lines.length === 0 || lines.some(({ text }) => text === "")}
    >
      <ol class="quote-lines">
        {lines.map((line, i) => (
          <QuoteLineFields path={path} option={id} line={line} place={i} currency={currency} messages={messages} />
        ))}
      </ol>
      {too_many !== undefined && <ErrorText id={`add-line-${id}`} message={too_many} />}
      {own_lines.length > 0 && (
        <SelectField
          id={`own-line-${id}`}
          name={`own-line-${id}`}
          label={
            <>
              New line<span class="visually-hidden">, option {place + 1}</span>
            </>
          }
          value=""
          choices={[{ value: "", label: "Empty" }, ...own_lines.map(({ n, text }) => ({ value: n, label: text }))]}
        />
      )}
      <p class="actions">
        <button type="submit" class="button-quiet" formaction={`${path}/lines`} id={`add-line-${id}`}>
          Add a line<span class="visually-hidden"> to option {place + 1}</span>
        </button>
        <button type="submit" class="button-quiet" formaction={`${path}/renewal`}>
          Reset lines from the price book<span class="visually-hidden">, option {place + 1}</span>
        </button>
      </p>
    </Folded>
  );
}

const LINE_PARTS = ["text", "quantity", "unit", "price", "discount", "kind", "tax_class"] as const;

/** Whether a discount is given, or something folded away is wrong; what it covers comes filled in. */
function isFoldedFilled({ fields, others, messages }: BuilderOptionProps): boolean {
  const { id, discount } = fields;
  const inputs = (["discount", "not_covered"] as const).map((part) => optionInput(id, part));
  const relations = (["replaces", "excludes"] as const).flatMap((part) =>
    others.map((other) => `${optionInput(id, part)}-${other.id}`),
  );
  return discount !== "" || [...inputs, ...relations].some((input) => messages.has(input));
}

const NOT_OPEN = {
  rule: "Local rules may bar this",
  empty: "Not on an empty system",
  floor: "The leak is too fast for it",
  done: "This test was made before",
} as const;

function Relation({
  fields,
  others,
  part,
  legend,
  messages,
}: BuilderOptionProps & { part: "replaces" | "excludes"; legend: string }) {
  const name = optionInput(fields.id, part);
  return (
    <fieldset class="field">
      <legend>{legend}</legend>
      <div class="choices">
        {others.map(({ id, title }) => {
          const input = `${name}-${id}`;
          const message = messages.get(input);
          return (
            <div>
              {message !== undefined && <ErrorText id={input} message={message} />}
              <label class="choice">
                <input
                  type="checkbox"
                  id={input}
                  name={name}
                  value={id}
                  checked={fields[part].includes(id)}
                  aria-describedby={message === undefined ? undefined : `${input}-error`}
                />
                {title}
              </label>
            </div>
          );
        })}
      </div>
    </fieldset>
  );
}

interface QuoteLineFieldsProps {
  path: string;
  option: string;
  line: LineFields;
  place: number;
  currency: string;
  messages: ReadonlyMap<string, string>;
}

function QuoteLineFields({ path, option, line, place, currency, messages }: QuoteLineFieldsProps) {
  const of = fieldOf(line, messages, (part: Exclude<keyof LineFields, "n">) => lineInput(option, line.n, part));
  const of_line = <span class="visually-hidden">, line {place + 1}</span>;
  const named = (name: string) => (
    <>
      {place === 0 ? name : <span class="column-name">{name}</span>}
      {of_line}
    </>
  );
  return (
    <li class="quote-line">
      <input type="hidden" name={`line-${option}`} value={line.n} />
      {line.auto !== "" && <input type="hidden" name={lineInput(option, line.n, "auto")} value={line.auto} />}
      <TextField {...of("text")} label={named("For")} words class="line-text" />
      <TextField {...of("quantity")} label={named("Quantity")} inputmode="decimal" />
      <TextField {...of("unit")} label={named("Unit")} />
      <TextField {...of("price")} label={named(`Each, ${currency}`)} inputmode="decimal" />
      <TextField {...of("discount")} label={named("Discount")} />
      <SelectField
        {...of("kind")}
        label={named("Kind")}
        choices={LINE_KINDS.map((kind) => ({ value: kind, label: LINE_KIND_NAMES[kind] }))}
      />
      <SelectField
        {...of("tax_class")}
        label={named("Tax as")}
        choices={TAX_CLASSES.map((tax) => ({ value: tax, label: TAX_CLASS_NAMES[tax] }))}
      />
      <div class="line-actions">
        {place > 0 && (
          <button type="submit" class="button-quiet remove" formaction={`${path}/lines/${line.n}/up`}>
            Move up<span class="visually-hidden">, line {place + 1}</span>
          </button>
        )}
        <button type="submit" class="button-quiet remove" formaction={`${path}/lines/${line.n}/removal`}>
          Remove<span class="visually-hidden"> line {place + 1}</span>
        </button>
      </div>
    </li>
  );
}

const TAX_CLASS_NAMES = { parts: "Parts", labor: "Labor", none: "None" } as const;
