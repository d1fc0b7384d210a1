/** A line of a quote as it was typed. `n` tells the lines of an option apart while the form is open. */
export interface LineFields {
  n: string;
  kind: string;
  text: string;
  quantity: string;
  unit: string;
  price: string;
  /** `10 %`, or an amount; empty for none. */
  discount: string;
  tax_class: string;
  /**
   * For supplies, the price as it was calculated from the other lines. It follows them until another price is typed.
   */
  auto: string;
}

/** An option of a quote as it was typed. */
export interface OptionFields {
  id: string;
  title: string;
  words: string;
  not_covered: string;
  discount: string;
  replaces: readonly string[];
  excludes: readonly string[];
  lines: readonly LineFields[];
}

/** A quote as it was typed. */
export interface QuoteFields {
  customer: string;
  /** Of the customer's page. */
  language: string;
  /** The vehicle as the paper names it. */
  vehicle_words: string;
  plate: string;
  vin: string;
  odometer: string;
  note: string;
  keep_years: string;
  valid_days: string;
  /** Id of an option; empty for none. */
  recommended: string;
  recommended_why: string;
  options: readonly OptionFields[];
}

/** Name and id of an input of an option. */
export function optionInput(option: string, part: Exclude<keyof OptionFields, "id" | "lines">): string {
  return `${part}-${option}`;
}

/** Name and id of an input of a line. */
export function lineInput(option: string, n: string, part: Exclude<keyof LineFields, "n">): string {
  return `${part}-${option}-${n}`;
}
