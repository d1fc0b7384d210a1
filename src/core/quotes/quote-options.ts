import { LINE_WORDS, OPTION_WORDS, PLACE_WORDS } from "../../../data/quote-words.ts";
import {
  type AssessAnswer,
  type Finding,
  LOCATION_IDS,
  type LocationId,
  type RefrigerantId,
} from "../question/contract.ts";
import type { PriceBook } from "./price-book.ts";
import { type OptionWork, optionTotal, type QuoteLine, type QuoteOption } from "./quote.ts";
import { lineOfOne, type QuoteCase, quoteLines } from "./quote-lines.ts";
import { isNothingNeeded } from "./quote-outlook.ts";

/** A place this sure is repaired without searching first. */
const KNOWN_SHARE = 0.8;

/** The case of a vehicle for `quoteLines`, from the model's answer. */
export function quoteCase(
  {
    refrigerant,
    nameplate_g,
    electric_compressor = false,
  }: { refrigerant: RefrigerantId; nameplate_g: number; electric_compressor?: boolean },
  { leak, locations }: AssessAnswer,
): QuoteCase {
  const likeliest = locations.reduce((best, one) => (one.probability > best.probability ? one : best));
  return {
    refrigerant,
    nameplate_g,
    electric: electric_compressor,
    missing_g: Math.max(0, nameplate_g - leak.charge_now_g.mean),
    likeliest: likeliest.id,
  };
}

/**
 * Where a test last showed a leak; null where none did since the last repair. What was found on the day of a repair is
 * what was repaired.
 */
export function leakFoundAt({
  findings,
  charge_log,
}: {
  findings: readonly Pick<Finding, "date" | "location" | "result">[];
  charge_log: readonly { date: string; repair?: LocationId | null }[];
}): LocationId | null {
  const repaired = charge_log.reduce((last, { repair, date }) => (repair != null && date > last ? date : last), "");
  const found = findings
    .filter(({ result, date }) => result === "leak" && date > repaired)
    .toSorted((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0))
    .at(-1);
  return found === undefined || found.location === "anywhere" ? null : found.location;
}

/**
 * The works that a quote for this vehicle begins with; none when nothing is needed today, or when low charge is not the
 * trouble. Recharge now, find the leak first, repair the place when a test has
 * shown it, else repair what is found; those left out that a rule, a leak too fast or an earlier test rules out.
 * `found_at`: the leak was found there, so it is repaired there, and not searched for.
 *
 * @internal Called from outside by tests alone.
 */
export function suggestedWorks(answer: AssessAnswer, found_at: LocationId | null = null): OptionWork[] {
  const { options, locations, value_of, verdict } = answer;
  const repair_found: OptionWork[] = found_at === null ? [] : [{ recharge: false, test: null, repair: found_at }];
  if (verdict.option === "check-first" || isNothingNeeded(answer)) return repair_found;
  const open = new Set(options.filter(({ offered }) => offered).map(({ id }) => id));
  if (found_at !== null)
    return [...(open.has("top-off") ? [{ recharge: true, test: null, repair: null }] : []), ...repair_found];
  const known = locations.find(({ probability }) => probability >= KNOWN_SHARE);
  const works: OptionWork[] = [];
  if (open.has("top-off")) works.push({ recharge: true, test: null, repair: null });
  if (known === undefined) {
    const dye_first = (value_of.dye_test_net ?? -Infinity) > (value_of.electronic_test_net ?? -Infinity);
    if (dye_first && open.has("dye-test")) works.push({ recharge: open.has("top-off"), test: "dye", repair: null });
    else if (open.has("electronic-test")) works.push({ recharge: false, test: "electronic", repair: null });
  }
  if (open.has("repair"))
    works.push(
      known === undefined
        ? { recharge: false, test: "electronic", repair: "found" }
        : { recharge: false, test: null, repair: known.id },
    );
  return works;
}

/** An option with this work at the prices of a book, in the words that a shop begins with. */
export function optionFromBook(
  id: string,
  book: PriceBook,
  work: OptionWork,
  given: QuoteCase,
  currency: string,
): QuoteOption {
  const { title, words, not_covered } = OPTION_WORDS[wordsFor(book, work)];
  const place = work.repair === "found" || work.repair === null ? null : work.repair;
  const linesAt = (likeliest: LocationId) => quoteLines(book, work, { ...given, likeliest }, currency);
  const totalAt = (likeliest: LocationId) =>
    optionTotal({ lines: linesAt(likeliest), discount: null }, book.taxes, currency).total_minor;
  return {
    id,
    title: place === null ? title : title.replace("{repair}", PLACE_WORDS[place].repair),
    words,
    work,
    lines: linesAt(given.likeliest),
    discount: null,
    replaces: [],
    excludes: [],
    not_covered,
    found:
      work.repair === "found"
        ? {
            priced_for: given.likeliest,
            totals_minor: Object.fromEntries(LOCATION_IDS.map((one) => [one, totalAt(one)])) as Record<
              LocationId,
              number
            >,
          }
        : null,
  };
}

/**
 * A repair of what is found once it is found at `place`: the lines that the book has for the place it was priced for
 * make way for those of this one; what someone changed or added stays. Any other option is given as it is.
 */
export function repairedAt(
  option: QuoteOption,
  place: LocationId,
  book: PriceBook,
  given: QuoteCase,
  currency: string,
): QuoteOption {
  const { found, work } = option;
  if (found === null || place === found.priced_for) return option;
  const linesAt = (likeliest: LocationId) => quoteLines(book, work, { ...given, likeliest }, currency);
  const [before, after] = [linesAt(found.priced_for), linesAt(place)];
  const in_place_of = (line: QuoteLine): QuoteLine[] => {
    const was = before.find(({ text }) => text === line.text);
    if (was === undefined) return [line];
    const becomes = after.find(({ text }) => text === line.text);
    if (becomes === undefined) return [];
    return [JSON.stringify(was) === JSON.stringify(line) ? becomes : line];
  };
  const first = option.lines.findIndex(({ text }) => !after.some((one) => one.text === text));
  const added = after.filter(({ text }) => !before.some((one) => one.text === text));
  const at = Math.max(0, first);
  const lines = [
    ...option.lines.slice(0, at).flatMap(in_place_of),
    ...added,
    ...option.lines.slice(at).flatMap(in_place_of),
  ];
  return { ...option, lines };
}

function wordsFor(book: PriceBook, { recharge, test, repair }: OptionWork): keyof typeof OPTION_WORDS {
  if (repair === "found") return "found";
  if (repair !== null) return book.places[repair].opened ? "repair" : "port";
  if (test !== null) return test;
  return recharge ? "recharge" : "own";
}

/** Finding out what is wrong when it is not the charge: an hour at the book's rate. */
function diagnosisFromBook(id: string, book: PriceBook): QuoteOption {
  const { title, words, not_covered } = OPTION_WORDS.diagnosis;
  const line = lineOfOne("labor", LINE_WORDS.diagnosis, book.labor_rate_micro);
  return {
    id,
    title,
    words,
    work: NO_WORK,
    lines: [{ ...line, unit: "h" }],
    discount: null,
    replaces: [],
    excludes: [],
    not_covered,
    found: null,
  };
}

/** Work that the model knows nothing about. */
const NO_WORK: OptionWork = { recharge: false, test: null, repair: null };

/** The options that a quote for this vehicle begins with, each replacing those whose work it contains. */
export function suggestedOptions(
  book: PriceBook,
  answer: AssessAnswer,
  given: QuoteCase,
  currency: string,
  found_at: LocationId | null = null,
): QuoteOption[] {
  const options: QuoteOption[] = [];
  if (answer.verdict.option === "check-first") options.push(diagnosisFromBook(nextOptionId(options), book));
  for (const work of suggestedWorks(answer, found_at))
    options.push(optionFromBook(nextOptionId(options), book, work, given, currency));
  return options.map((option) => ({
    ...option,
    replaces: options.filter((other) => replacesWork(option.work, other.work)).map(({ id }) => id),
  }));
}

/** The first of `a`, `b`, … `z`, `aa`, … that no option has. */
export function nextOptionId(options: readonly Pick<QuoteOption, "id">[]): string {
  const taken = new Set(options.map(({ id }) => id));
  for (let n = 0; ; n++) {
    const letter = String.fromCharCode(97 + (n % 26)).repeat(1 + Math.floor(n / 26));
    if (!taken.has(letter)) return letter;
  }
}

/** Whether the work of `one` makes that of `other` unnecessary, and not the other way round. */
export function replacesWork(one: OptionWork, other: OptionWork): boolean {
  return containsWork(one, other) && !containsWork(other, one);
}

/** A repair ends with a charge, and leaves nothing to be found; a repair of what is found is one of any place. */
function containsWork(one: OptionWork, other: OptionWork): boolean {
  const repairs = one.repair !== null;
  return (
    (!other.recharge || one.recharge || repairs) &&
    (other.test === null || other.test === one.test || repairs) &&
    (other.repair === null || other.repair === one.repair || one.repair === "found")
  );
}
