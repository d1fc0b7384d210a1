import type { DateOrder } from "../src/core/quantities/parse-when.ts";
import type { OptionId, RefrigerantId, Service } from "../src/core/question/contract.ts";

/**
 * What the law says about refrigerant in vehicles, by place, as far as we have seen or remember it. Not legal advice:
 * every page that shows a rule says "check your local code", and a shop asks its own authority.
 *
 * `confidence: "seen"` is a text or an authority's page that was read on the `checked` day, perhaps in a stored copy
 * (`text_as_of`); `"remembered"` is from memory and bars nothing.
 */

export const LEGAL_NOTE = "Check your local code; this is not legal advice.";

/**
 * A charge that lasted this many days or fewer left through an abnormal leak. Rules give no number ("days or weeks" is
 * how they are explained); two months is our reading of it.
 */
export const ABNORMAL_WITHIN_DAYS = 60;

export interface Place {
  /** As a choice. */
  readonly name: string;
  /** As the heading of what holds all over it. */
  readonly region: string;
  /** The larger place whose rules hold here too. */
  readonly within: PlaceId | null;
  /** How 6/5/2024 is read there (common practice, no source); null: it is asked. */
  readonly date_order: DateOrder | null;
}

export type PlaceId =
  | "us"
  | "us-ca"
  | "us-ca-bay-area"
  | "us-fl"
  | "us-ny"
  | "us-tx"
  | "us-wi"
  | "eu"
  | "uk"
  | "elsewhere";

export const PLACES: Readonly<Record<PlaceId, Place>> = {
  us: {
    name: "United States, a state not listed",
    region: "All of the United States",
    within: null,
    date_order: "month-first",
  },
  "us-ca": { name: "California", region: "All of California", within: "us", date_order: "month-first" },
  "us-ca-bay-area": {
    name: "California, San Francisco Bay Area",
    region: "San Francisco Bay Area",
    within: "us-ca",
    date_order: "month-first",
  },
  "us-fl": { name: "Florida", region: "Florida", within: "us", date_order: "month-first" },
  "us-ny": { name: "New York", region: "New York", within: "us", date_order: "month-first" },
  "us-tx": { name: "Texas", region: "Texas", within: "us", date_order: "month-first" },
  "us-wi": { name: "Wisconsin", region: "Wisconsin", within: "us", date_order: "month-first" },
  eu: { name: "European Union", region: "European Union", within: null, date_order: "day-first" },
  uk: { name: "United Kingdom", region: "United Kingdom", within: null, date_order: "day-first" },
  elsewhere: { name: "Elsewhere, or not said", region: "Elsewhere", within: null, date_order: null },
};

export interface Bar {
  readonly option: OptionId;
  readonly service: Service;
  /** Only for these refrigerants; without it, for all. */
  readonly refrigerants?: readonly RefrigerantId[];
  /** `leaking`: whenever the system leaks, which it does here. `abnormal-leak`: more than such a system loses by itself. */
  readonly when: "leaking" | "abnormal-leak";
}

export type RuleTopic = "venting" | "who-may" | "leak-repair" | "buying" | "can-valve" | "deposit" | "leak-limit";

export interface Rule {
  readonly id: string;
  readonly place: PlaceId;
  readonly topic: RuleTopic;
  readonly title: string;
  readonly says: string;
  readonly binds: readonly ("private-person" | "paid-service" | "seller")[];
  readonly bars: readonly Bar[];
  readonly can_valve: "self-sealing" | null;
  readonly deposit: { readonly per_can: number; readonly currency: "USD"; readonly return_within_days: number } | null;
  readonly citation: string;
  readonly source: string;
  /** The state of the text that was seen, where it says so. */
  readonly text_as_of: string | null;
  readonly checked: string;
  readonly confidence: "seen" | "remembered";
  /** What speaks against relying on it; null without. */
  readonly doubt: string | null;
  /** First day in force; null when it is older than any charge log. */
  readonly from: string | null;
  /** First day no longer in force; null while it holds. */
  readonly until: string | null;
}

const CHECKED = "2026-11-24";

const NOTHING_MORE = {
  bars: [],
  can_valve: null,
  deposit: null,
  text_as_of: null,
  checked: CHECKED,
  doubt: null,
  from: null,
  until: null,
} as const;

export const RULES: readonly Rule[] = [
  {
    ...NOTHING_MORE,
    id: "us-venting",
    place: "us",
    topic: "venting",
    title: "No venting",
    says: "Nobody may knowingly let refrigerant go into the air while servicing, repairing or scrapping. What escapes despite proper work does not count.",
    binds: ["private-person", "paid-service"],
    citation: "Clean Air Act §608(c), 42 U.S.C. 7671g(c); HFC substitutes since 15 November 1995",
    source: "US EPA publications; 40 CFR 82.154(a) as published",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "us-609",
    place: "us",
    topic: "who-may",
    title: "Paid work needs a certificate",
    says: "Anyone paid in any form for work on a vehicle's refrigerant must be trained and certified under section 609 and use approved equipment; refrigerant taken out is recycled or reclaimed before it goes back in, even into the same vehicle. A private person may work on their own vehicle.",
    binds: ["paid-service"],
    citation: "Clean Air Act §609; 40 CFR 82.34(a)",
    source: "40 CFR 82.34; US EPA, regulatory requirements for MVAC system servicing (2021 snapshot)",
    text_as_of: "2026-06-20",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "us-no-repair-duty",
    place: "us",
    topic: "leak-repair",
    title: "No federal duty to repair first",
    says: "Federal law does not ask for a vehicle's leak to be repaired before it is topped off: topping off, evacuating and recharging, and repairing are all lawful. The EPA adds that a top-off guesses the amount and fixes nothing. Some states and districts ask for more.",
    binds: ["private-person", "paid-service"],
    citation: "none; the EPA lists the three choices",
    source: "US EPA, options for recharging your air conditioner (2021 snapshot); US EPA news release 1998",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "us-small-can",
    place: "us",
    topic: "can-valve",
    title: "Small cans are self-sealing",
    says: "Anyone may buy R-134a or another substitute for a vehicle in cans of two pounds or less, if the can closes itself. Cans made or imported before 2018 without such a valve may still be sold. Larger containers go to certified technicians only.",
    binds: ["seller", "private-person"],
    can_valve: "self-sealing",
    citation: "40 CFR 82.154(c); 82 FR 61180 (27 December 2017)",
    source: "Federal Register 2017-27800; trade press, December 2017",
    confidence: "seen",
    from: "2018-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-r12-sale",
    place: "us",
    topic: "buying",
    title: "R-12 only for certified technicians",
    says: "R-12 for vehicles in containers under 20 pounds is sold to technicians certified under section 609 only, or for resale. A private person cannot buy it to top off.",
    binds: ["seller", "private-person"],
    bars: [
      { option: "top-off", service: "diy", refrigerants: ["R-12"], when: "leaking" },
      { option: "dye-test", service: "diy", refrigerants: ["R-12"], when: "leaking" },
    ],
    citation: "40 CFR 82.34(b)",
    source: "40 CFR 82.34",
    text_as_of: "2026-06-20",
    confidence: "seen",
    from: "1992-11-15",
  },
  {
    ...NOTHING_MORE,
    id: "us-large-systems",
    place: "us",
    topic: "leak-limit",
    title: "Leak limits of large systems do not reach cars",
    says: "Yearly leak limits (10 % of the charge for comfort cooling) are written for appliances with at least 15 pounds of HFC. A car or van holds far less; a large bus may hold more than that, so its operator asks whether they apply.",
    binds: ["paid-service"],
    citation: "40 CFR 84.106 (from 2026); 40 CFR 82.157 for ozone-depleting refrigerants from 50 pounds",
    source: "Federal Register 2024-21967; trade press on it",
    doubt: "A reconsideration was asked for in 2025; how it ended was not found.",
    confidence: "seen",
    from: "2026-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-ca-small-can",
    place: "us-ca",
    topic: "can-valve",
    title: "California's small cans",
    says: "Cans of more than two ounces and less than two pounds with a refrigerant of GWP over 150, such as R-134a, close themselves and carry instructions. Makers phase in reclaimed refrigerant from 2025.",
    binds: ["seller"],
    can_valve: "self-sealing",
    citation: "17 CCR 95360 and following",
    source: "California Air Resources Board, fact sheet on small containers of automotive refrigerant",
    text_as_of: "2024-07-01",
    confidence: "seen",
    from: "2010-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-ca-deposit",
    place: "us-ca",
    topic: "deposit",
    title: "California's can deposit",
    says: "A deposit of $10 a can was paid at the till and came back when the used can, not opened by force, was returned to the same store within 90 days with the receipt. The programme ended on 1 January 2025.",
    binds: ["seller", "private-person"],
    deposit: { per_can: 10, currency: "USD", return_within_days: 90 },
    citation: "17 CCR 95366",
    source: "California Air Resources Board, retailer advisory; 17 CCR 95366, Register 2024 no. 38",
    text_as_of: "2024-09-20",
    confidence: "seen",
    from: "2010-01-01",
    until: "2025-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-ca-bay-area-leak-check",
    place: "us-ca-bay-area",
    topic: "leak-repair",
    title: "Bay Area: no refrigerant into a leaking system",
    says: "A paid service checks by eye and with an electronic detector, and puts no refrigerant into a system with a detectable leak until that is repaired; a dye test that starts with a top-off falls under it too.",
    binds: ["paid-service"],
    bars: [
      { option: "top-off", service: "shop", when: "leaking" },
      { option: "dye-test", service: "shop", when: "leaking" },
    ],
    citation: "Bay Area Air Quality Management District, Regulation 12 Rule 7, section 301 (17 June 1992)",
    source: "Trade association magazine 2016, second-hand",
    confidence: "seen",
    doubt:
      "Another trade page says that California's leak-check rules were repealed. The rule's own text was not at hand: ask the district.",
    from: "1992-06-17",
  },
  {
    ...NOTHING_MORE,
    id: "us-wi-leak-repair",
    place: "us-wi",
    topic: "leak-repair",
    title: "Wisconsin: repair before refrigerant goes in",
    says: "Whoever repairs or services a vehicle's air conditioner for a customer first examines it for leaks and says so; no refrigerant goes into a leaking system until the leak is repaired.",
    binds: ["paid-service"],
    bars: [{ option: "top-off", service: "shop", when: "leaking" }],
    citation: "Wis. Admin. Code ATCP 136.16(1), (2)",
    source: "ATCP 136.16",
    text_as_of: "2024-08-26",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "us-wi-leak-search",
    place: "us-wi",
    topic: "leak-repair",
    title: "Wisconsin: refrigerant put in to find a leak comes out again",
    says: "A service may put refrigerant in to find a leak, and must then recover it without letting it out. Dye that is driven around for weeks with a fresh charge does not fit that, so a paid dye test with a top-off is barred here; an electronic test is not.",
    binds: ["paid-service"],
    bars: [{ option: "dye-test", service: "shop", when: "leaking" }],
    citation: "Wis. Admin. Code ATCP 136.16(2)",
    source: "ATCP 136.16",
    text_as_of: "2024-08-26",
    confidence: "seen",
    doubt: "That a dye test with a top-off falls under it is our reading of the text.",
  },
  {
    ...NOTHING_MORE,
    id: "us-wi-small-can",
    place: "us-wi",
    topic: "buying",
    title: "Wisconsin: small cans of R-134a are sold again",
    says: "Small cans were banned for years; cans without an ozone-depleting refrigerant may be sold since 2011. Containers under 15 pounds of R-12 may not.",
    binds: ["seller", "private-person"],
    citation: "Wis. Stat. 100.45; ATCP 136",
    source: "Wisconsin Department of Agriculture, Trade and Consumer Protection; hearing notice 2013",
    confidence: "seen",
    from: "2011-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-fl-dropped",
    place: "us-fl",
    topic: "leak-repair",
    title: "Florida: the old recharge ban is gone",
    says: "A ban of 1991 on recharging leaking vehicles was dropped in early 1996; the federal rules remain.",
    binds: ["paid-service"],
    citation: "Florida law of 1991, aligned with federal law 1996",
    source: "Newspaper report, 8 February 1996",
    confidence: "seen",
    from: "1996-02-08",
  },
  {
    ...NOTHING_MORE,
    id: "us-tx-refrigerant",
    place: "us-tx",
    topic: "buying",
    title: "Texas limits the kind of refrigerant",
    says: "A vehicle's air conditioner may hold only a refrigerant that the law allows there. No rule against topping off was seen.",
    binds: ["private-person", "paid-service"],
    citation: "Texas Transportation Code 547.610",
    source: "Texas Transportation Code 547.610",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "us-ny-cfc",
    place: "us-ny",
    topic: "venting",
    title: "New York: venting and recycling of CFC",
    says: "State law covers venting and recycling of CFC refrigerants such as R-12. No rule against topping off was seen.",
    binds: ["paid-service"],
    citation: "New York Environmental Conservation Law 38-0107",
    source: "New York ECL 38-0107 (2010)",
    text_as_of: "2010",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "eu-abnormal-leak",
    place: "eu",
    topic: "leak-repair",
    title: "European Union: no filling after an abnormal leak",
    says: "A service provider must not fill a vehicle's system when an abnormal amount has leaked, until the repair is done. What is abnormal is not given as a number; a charge that lasted days or weeks is.",
    binds: ["paid-service"],
    bars: [
      { option: "top-off", service: "shop", when: "abnormal-leak" },
      { option: "dye-test", service: "shop", when: "abnormal-leak" },
    ],
    citation: "Directive 2006/40/EC, Art. 6(3)",
    source: "Directive 2006/40/EC, Art. 6",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "eu-release",
    place: "eu",
    topic: "venting",
    title: "European Union: no intended release, precautions against leaks",
    says: "Letting fluorinated gas out on purpose is forbidden and precautions against leaks are a duty; detected leaks are repaired without undue delay and checked afterwards. How far this binds the private owner of a car is not settled.",
    binds: ["private-person", "paid-service"],
    citation: "Regulation (EU) 2024/573, Art. 4",
    source: "EUR-Lex summary of Regulation (EU) 2024/573",
    confidence: "seen",
    doubt: "How far the duty to repair reaches private cars was not found.",
    from: "2024-03-11",
  },
  {
    ...NOTHING_MORE,
    id: "eu-gwp-150",
    place: "eu",
    topic: "buying",
    title: "European Union: R-134a only where it was before",
    says: "Since 2017 a system is not filled with a refrigerant of GWP over 150, except to refill one that already held it.",
    binds: ["paid-service"],
    citation: "Directive 2006/40/EC, Art. 6(2)",
    source: "Directive 2006/40/EC, Art. 6",
    confidence: "seen",
    from: "2017-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "eu-type-approval",
    place: "eu",
    topic: "leak-limit",
    title: "European Union: leak limit of new types",
    says: "A new type with a refrigerant of GWP over 150 must not lose more than 40 g a year (60 g with two evaporators). It binds the maker, not the owner, and is a yardstick for what is normal.",
    binds: ["seller"],
    citation: "Directive 2006/40/EC, Art. 5",
    source: "Directive 2006/40/EC, summary of an industry association",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "eu-sale",
    place: "eu",
    topic: "buying",
    title: "European Union: gas for certified buyers, no throw-away cans",
    says: "Fluorinated refrigerant is sold to certified people and undertakings, and not in containers that cannot be refilled. A private person can hardly buy what a top-off needs.",
    binds: ["seller", "private-person"],
    citation: "Regulation (EU) 2024/573, Art. 11 and Annex IV (before: 517/2014, Art. 11)",
    source: "from memory",
    confidence: "remembered",
    doubt: "Remembered, not read: ask before buying.",
  },
  {
    ...NOTHING_MORE,
    id: "uk-abnormal-leak",
    place: "uk",
    topic: "leak-repair",
    title: "United Kingdom: filling after an abnormal leak is an offence",
    says: "A service provider who fills a vehicle's system with fluorinated gas after an abnormal leak, before it is repaired, commits a criminal offence; due diligence is a defence. One modest top-off may be lawful, refilling what left in days is not.",
    binds: ["paid-service"],
    bars: [
      { option: "top-off", service: "shop", when: "abnormal-leak" },
      { option: "dye-test", service: "shop", when: "abnormal-leak" },
    ],
    citation: "SI 2009/2194, reg. 3–5",
    source: "SI 2009/2194, explanatory note; a government reply quoted elsewhere",
    confidence: "seen",
  },
  {
    ...NOTHING_MORE,
    id: "uk-sale",
    place: "uk",
    topic: "buying",
    title: "United Kingdom: gas for certified buyers",
    says: "Fluorinated refrigerant is sold to certified people and undertakings, and not in containers that cannot be refilled.",
    binds: ["seller", "private-person"],
    citation: "Regulation (EU) 517/2014 as retained, Art. 11; SI 2015/310",
    source: "from memory",
    confidence: "remembered",
    doubt: "Remembered, not read: ask before buying.",
  },
  {
    ...NOTHING_MORE,
    id: "elsewhere-ask",
    place: "elsewhere",
    topic: "leak-repair",
    title: "Not known here",
    says: "Many places forbid letting refrigerant out on purpose, and some forbid filling a system known to leak. We know no rule for this place and bar nothing: ask a licensed shop or the authority before topping off.",
    binds: ["private-person", "paid-service"],
    citation: "none",
    source: "no source",
    confidence: "remembered",
  },
];
