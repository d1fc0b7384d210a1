import type { DateOrder } from "../src/core/quantities/parse-when.ts";
import type { OptionId, RefrigerantId, Service } from "../src/core/question/contract.ts";

/**
 * What the law says about refrigerant in vehicles, by place, as far as we have seen or remember it. Not legal advice:
 * every page that shows a rule says "check your local code", and a shop asks its own authority.
 *
 * `grade` says how well a rule is known, on the `checked` day. `text-read`: the wording of the law itself was read,
 * perhaps in a stored copy (`text_as_of`). `second-hand`: an account of it was, be it the authority's own, a summary or
 * an explanatory note. `not-verified`: neither. Only the first bars an option; the bars of the second warn.
 */

export const GRADES = {
  "text-read": "Text read",
  "second-hand": "Second-hand",
  "not-verified": "Not verified",
} as const;

export type Grade = keyof typeof GRADES;

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
  /**
   * How 6/5/2024 is read there (common practice, no source). Null: it is asked, since both orders are in use (Canada,
   * by language and by trade) or neither is (Japan writes the year first).
   */
  readonly date_order: DateOrder | null;
}

export type PlaceId =
  | "us"
  | "us-ca"
  | "us-ca-bay-area"
  | "us-fl"
  | "us-ny"
  | "us-tx"
  | "us-wa"
  | "us-wi"
  | "ca"
  | "ca-bc"
  | "ca-mb"
  | "ca-on"
  | "ca-qc"
  | "mx"
  | "eu"
  | "uk"
  | "gb"
  | "ni"
  | "no"
  | "ch"
  | "au"
  | "nz"
  | "jp"
  | "other"
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
  "us-wa": { name: "Washington State", region: "Washington State", within: "us", date_order: "month-first" },
  "us-wi": { name: "Wisconsin", region: "Wisconsin", within: "us", date_order: "month-first" },
  ca: { name: "Canada, a province not listed", region: "All of Canada", within: null, date_order: null },
  "ca-bc": { name: "British Columbia", region: "British Columbia", within: "ca", date_order: null },
  "ca-mb": { name: "Manitoba", region: "Manitoba", within: "ca", date_order: null },
  "ca-on": { name: "Ontario", region: "Ontario", within: "ca", date_order: null },
  "ca-qc": { name: "Québec", region: "Québec", within: "ca", date_order: null },
  mx: { name: "Mexico", region: "Mexico", within: null, date_order: "day-first" },
  eu: { name: "European Union", region: "European Union", within: null, date_order: "day-first" },
  uk: {
    name: "United Kingdom, part not said",
    region: "All of the United Kingdom",
    within: null,
    date_order: "day-first",
  },
  gb: { name: "Great Britain", region: "Great Britain", within: "uk", date_order: "day-first" },
  ni: { name: "Northern Ireland", region: "Northern Ireland", within: "uk", date_order: "day-first" },
  no: { name: "Norway", region: "Norway", within: null, date_order: "day-first" },
  ch: { name: "Switzerland", region: "Switzerland", within: null, date_order: "day-first" },
  au: { name: "Australia", region: "Australia", within: null, date_order: "day-first" },
  nz: { name: "New Zealand", region: "New Zealand", within: null, date_order: "day-first" },
  jp: { name: "Japan", region: "Japan", within: null, date_order: null },
  other: { name: "Somewhere else", region: "Somewhere else", within: null, date_order: null },
  elsewhere: { name: "Not said", region: "Not said", within: null, date_order: null },
};

export interface Bar {
  readonly option: OptionId;
  readonly service: Service;
  /** Only for these refrigerants; without it, for all. */
  readonly refrigerants?: readonly RefrigerantId[];
  /**
   * `leaking`: whenever the system leaks, which it does here. `abnormal-leak`: more than such a system loses by itself.
   */
  readonly when: "leaking" | "abnormal-leak";
}

export type RuleTopic =
  | "venting"
  | "who-may"
  | "leak-repair"
  | "buying"
  | "can-valve"
  | "deposit"
  | "leak-limit"
  | "records";

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
  readonly grade: Grade;
  /** What speaks against relying on it; null without. */
  readonly doubt: string | null;
  /** First day in force; null when it is older than any charge log. */
  readonly from: string | null;
  /** First day no longer in force; null while it holds. */
  readonly until: string | null;
}

const CHECKED = "2026-11-24";
/** The later day on which some were read, or looked for again. */
const CHECKED_AGAIN = "2026-11-29";

const SERVICE_PAIR: readonly Service[] = ["diy", "shop"];

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

/** R-12 goes into no system, whoever does it. */
const R12_NOBODY: readonly Bar[] = SERVICE_PAIR.flatMap((service) => [
  { option: "top-off", service, refrigerants: ["R-12"], when: "leaking" },
  { option: "dye-test", service, refrigerants: ["R-12"], when: "leaking" },
]);

/** Nobody adds refrigerant to a system that leaks, also not to look for the leak. */
const NO_REFRIGERANT_INTO_A_LEAK: readonly Bar[] = SERVICE_PAIR.flatMap((service) => [
  { option: "top-off", service, when: "leaking" },
  { option: "dye-test", service, when: "leaking" },
]);

export const RULES: readonly Rule[] = [
  {
    ...NOTHING_MORE,
    id: "us-venting",
    place: "us",
    topic: "venting",
    title: "No venting",
    says: "Nobody may knowingly vent refrigerant while servicing, repairing or scrapping. What escapes despite proper work does not count.",
    binds: ["private-person", "paid-service"],
    citation: "Clean Air Act §608(c), 42 U.S.C. 7671g(c); HFC substitutes since 15 November 1995",
    source: "US EPA publications; 40 CFR 82.154(a) as published",
    grade: "text-read",
  },
  {
    ...NOTHING_MORE,
    id: "us-609",
    place: "us",
    topic: "who-may",
    title: "Paid work needs a certificate",
    says: "Anyone paid in any form for work on a vehicle's refrigerant must be trained and certified under section 609 and use approved equipment; refrigerant taken out is recycled or reclaimed before it goes back in, even into the same vehicle. Owners may work on their own vehicle.",
    binds: ["paid-service"],
    citation: "Clean Air Act §609; 40 CFR 82.34(a)",
    source: "40 CFR 82.34; US EPA, regulatory requirements for MVAC system servicing (2021 snapshot)",
    text_as_of: "2026-06-20",
    grade: "text-read",
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
    grade: "second-hand",
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
    grade: "text-read",
    from: "2018-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-r12-sale",
    place: "us",
    topic: "buying",
    title: "R-12 only for certified technicians",
    says: "R-12 for vehicles in containers under 20 pounds is sold to technicians certified under section 609 only, or for resale. Owners can't buy it to top off.",
    binds: ["seller", "private-person"],
    bars: [
      { option: "top-off", service: "diy", refrigerants: ["R-12"], when: "leaking" },
      { option: "dye-test", service: "diy", refrigerants: ["R-12"], when: "leaking" },
    ],
    citation: "40 CFR 82.34(b)",
    source: "40 CFR 82.34",
    text_as_of: "2026-06-20",
    grade: "text-read",
    from: "1992-11-15",
  },
  {
    ...NOTHING_MORE,
    id: "us-large-systems",
    place: "us",
    topic: "leak-limit",
    title: "Leak limits of large systems do not reach cars",
    says: "Yearly leak limits (10 % of the charge for comfort cooling and for refrigerated transport) are written for appliances with at least 15 pounds of HFC. A car or van holds far less; a large bus may hold more than that, so its operator asks whether they apply.",
    binds: ["paid-service"],
    citation: "40 CFR 84.106 (from 2026); 40 CFR 82.157 for ozone-depleting refrigerants from 50 pounds",
    source: "Federal Register 2024-21967; trade press on it",
    doubt: "A reconsideration was asked for in 2025; how it ended was not found.",
    grade: "text-read",
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
    grade: "second-hand",
    from: "2010-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-ca-deposit",
    place: "us-ca",
    topic: "deposit",
    title: "California's can deposit",
    says: "A deposit of $10 a can was paid at the till and came back when the used can, not forced open, was returned to the same store within 90 days with the receipt. The program ended on 1 January 2025.",
    binds: ["seller", "private-person"],
    deposit: { per_can: 10, currency: "USD", return_within_days: 90 },
    citation: "17 CCR 95366",
    source: "California Air Resources Board, retailer advisory; 17 CCR 95366, Register 2024 no. 38",
    text_as_of: "2024-09-20",
    grade: "text-read",
    from: "2010-01-01",
    until: "2025-01-01",
  },
  {
    ...NOTHING_MORE,
    id: "us-ca-bay-area-leak-check",
    place: "us-ca-bay-area",
    topic: "leak-repair",
    title: "Bay Area: no refrigerant into a leaking system",
    says: "A shop checks by eye and with an electronic detector, and puts no refrigerant into a system with a detectable leak until that is repaired; a dye test that starts with a top-off falls under it too.",
    binds: ["paid-service"],
    bars: [
      { option: "top-off", service: "shop", when: "leaking" },
      { option: "dye-test", service: "shop", when: "leaking" },
    ],
    citation: "Bay Area Air Quality Management District, Regulation 12 Rule 7, section 301 (17 June 1992)",
    source: "Trade association magazine 2016, second-hand",
    grade: "second-hand",
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
    says: "A shop must first check the system for leaks and tell the customer. It may not add refrigerant to a leaking system until the leak is repaired.",
    binds: ["paid-service"],
    bars: [{ option: "top-off", service: "shop", when: "leaking" }],
    citation: "Wis. Admin. Code ATCP 136.16(1), (2)",
    source: "ATCP 136.16",
    text_as_of: "2024-08-26",
    grade: "text-read",
  },
  {
    ...NOTHING_MORE,
    id: "us-wi-leak-search",
    place: "us-wi",
    topic: "leak-repair",
    title: "Wisconsin: refrigerant put in to find a leak comes out again",
    says: "A service may put refrigerant in to find a leak, and must then recover it without venting it. A dye test with a top-off needs weeks of driving and does not meet that, so a shop may not do it here. An electronic leak test is allowed.",
    binds: ["paid-service"],
    bars: [{ option: "dye-test", service: "shop", when: "leaking" }],
    citation: "Wis. Admin. Code ATCP 136.16(2)",
    source: "ATCP 136.16",
    text_as_of: "2024-08-26",
    grade: "text-read",
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
    grade: "second-hand",
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
    grade: "second-hand",
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
    grade: "text-read",
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
    grade: "text-read",
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
    grade: "text-read",
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
    grade: "second-hand",
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
    grade: "text-read",
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
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "eu-attestation",
    place: "eu",
    topic: "who-may",
    title: "European Union: no work on vehicle air conditioning by the untrained",
    says: "Only people with a training attestation may service or repair the air conditioning of a motor vehicle, with R-134a and R-1234yf alike. A top-off and a dye test are servicing.",
    binds: ["private-person", "paid-service"],
    bars: [
      { option: "top-off", service: "diy", when: "leaking" },
      { option: "dye-test", service: "diy", when: "leaking" },
    ],
    citation: "Regulation (EU) 2024/573, Art. 10(1); Implementing Regulation (EU) 2025/1893",
    source: "Art. 10(1) at a law publisher; recitals of 2025/1893 in the Official Journal, its Art. 1 at a trade body",
    text_as_of: "2025-09-19",
    grade: "text-read",
    from: "2024-03-11",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "eu-ods",
    place: "eu",
    topic: "who-may",
    title: "European Union: R-12 is not put in any more",
    says: "Using ozone-depleting substances such as R-12 is forbidden, with narrow exceptions that do not reach vehicles.",
    binds: ["private-person", "paid-service"],
    bars: R12_NOBODY,
    citation: "Regulation (EU) 2024/590, Art. 4",
    source: "European Parliament, summary of the legislative act",
    grade: "second-hand",
    from: "2024-03-11",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "eu-sale",
    place: "eu",
    topic: "buying",
    title: "European Union: gas for certified buyers, no throw-away cans",
    says: "Fluorinated refrigerant is sold only to people and businesses with the certificate or attestation, and not in containers that cannot be refilled.",
    binds: ["seller", "private-person"],
    citation: "Regulation (EU) 2024/573, Art. 11(6)",
    source: "Two authorities' answers to questions, as quoted by others, October 2025",
    grade: "second-hand",
    doubt: "The article's own text was not at hand.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "eu-logbook",
    place: "eu",
    topic: "records",
    title: "European Union: leak checks and a logbook for heavy vehicles and vans",
    says: "From March 2027 the air conditioning of heavy vehicles, vans and machines above a threshold of charge is checked for leaks, and a logbook is kept.",
    binds: ["paid-service"],
    citation: "Regulation (EU) 2024/573, Art. 5(3)(c)",
    source: "A training institute's magazine",
    grade: "second-hand",
    doubt: "The threshold (5 t CO₂e, 3.5 kg of R-134a) is from memory.",
    from: "2027-03-12",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
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
    source: "The explanatory note to SI 2009/2194, which is not part of it; a government reply quoted elsewhere",
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "uk-r12",
    place: "uk",
    topic: "who-may",
    title: "United Kingdom: leave R-12 systems closed",
    says: "The environmental agencies say that nobody should break into a vehicle system that holds a CFC such as R-12.",
    binds: ["private-person", "paid-service"],
    bars: R12_NOBODY,
    citation: "Ozone-depleting substances rules; guidance on vehicle air-conditioning systems",
    source: "Guidance of the agencies of Northern Ireland and Scotland, not the law's text",
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "gb-sale",
    place: "gb",
    topic: "buying",
    title: "Great Britain: vehicle refrigerant may be sold to anyone, in refillable containers",
    says: "The government stated in 2015 that refrigerant for vehicles may be sold to people without a certificate, but only in refillable containers that can be returned.",
    binds: ["seller", "private-person"],
    citation: "Regulation (EU) 517/2014 as retained, Art. 11; government statement, September 2015",
    source: "The statement as printed by trade papers, 2015",
    grade: "second-hand",
    doubt: "The rules were under reform. Ask before you buy.",
    from: "2015-09-01",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ni-eu",
    place: "ni",
    topic: "who-may",
    title: "Northern Ireland: EU rules may apply",
    says: "EU rules on fluorinated gases may apply here, and they forbid work on vehicle air conditioning without training.",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "from memory",
    grade: "not-verified",
    doubt: "Ask the Northern Ireland Environment Agency whether an owner may buy refrigerant and add it.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-provinces",
    place: "ca",
    topic: "leak-repair",
    title: "Canada: the provinces decide, and several forbid topping off a leak",
    says: "Provincial rules say who may handle refrigerant. Most ask for certified people, a leak test before charging, and no charging of a leaking system.",
    binds: ["private-person", "paid-service"],
    citation: "provincial regulations on halocarbons; federal code of practice, chapter 6",
    source: "Government of Canada, code of practice to eliminate halocarbon emissions",
    grade: "second-hand",
    doubt: "Ask your province's environment ministry.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-on-leak",
    place: "ca-on",
    topic: "leak-repair",
    title: "Ontario: leak test and repair before refrigerant goes in",
    says: "A certified person tests for leaks first and tags the system. If it leaks, it must be repaired before refrigerant is added; the owner is responsible for the repair.",
    binds: ["private-person", "paid-service"],
    bars: NO_REFRIGERANT_INTO_A_LEAK,
    citation: "O. Reg. 463/10",
    source: "Government of Ontario, page for owners of car air conditioners, not the regulation's text",
    grade: "second-hand",
    from: "2011-01-01",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-on-buying",
    place: "ca-on",
    topic: "buying",
    title: "Ontario: a certificate to buy and handle refrigerant",
    says: "To buy and handle refrigerant one needs an Ozone Depletion Prevention certificate.",
    binds: ["seller", "private-person", "paid-service"],
    citation: "O. Reg. 463/10",
    source: "Government of Ontario, answers for technicians",
    grade: "second-hand",
    from: "2011-01-01",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-on-records",
    place: "ca-on",
    topic: "records",
    title: "Ontario: a tag with the leak test's result",
    says: "Date, name, certificate number, result, and in case of a leak that no refrigerant may be added until the repair.",
    binds: ["paid-service"],
    citation: "O. Reg. 463/10",
    source: "Government of Ontario, page for owners of car air conditioners",
    grade: "second-hand",
    from: "2011-01-01",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-mb-leak",
    place: "ca-mb",
    topic: "leak-repair",
    title: "Manitoba: no charging or topping off before a leak test and the repair",
    says: "Nobody may charge, recharge or top off equipment with a regulated substance without a leak test first and, if it leaks, the repair. Nobody may add a regulated substance in order to test for leaks.",
    binds: ["private-person", "paid-service"],
    bars: NO_REFRIGERANT_INTO_A_LEAK,
    citation: "Manitoba Regulation 103/94, s. 11(4) and 12(1)",
    source: "Manitoba Regulation 103/94 as amended by 178/2005",
    text_as_of: "2005",
    grade: "text-read",
    doubt: "That R-134a is among its classes was not read. Ask the province.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-qc-who",
    place: "ca-qc",
    topic: "who-may",
    title: "Québec: qualified people only, leak test before filling",
    says: "Only people with an environmental halocarbon qualification may maintain or repair such equipment. A leak test is mandatory before filling.",
    binds: ["private-person", "paid-service"],
    bars: [
      { option: "top-off", service: "diy", when: "leaking" },
      { option: "dye-test", service: "diy", when: "leaking" },
    ],
    citation: "Regulation respecting halocarbons, Q-2, r. 29",
    source: "Government of Québec, regulation highlights",
    text_as_of: "2023-07-06",
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-qc-recover",
    place: "ca-qc",
    topic: "leak-repair",
    title: "Québec: a defect that may leak means recovery",
    says: "Anyone servicing a vehicle's air conditioning who becomes aware of a defect that may cause a leak must identify and recover the refrigerant.",
    binds: ["paid-service"],
    bars: [
      { option: "top-off", service: "shop", when: "leaking" },
      { option: "dye-test", service: "shop", when: "leaking" },
    ],
    citation: "Regulation respecting halocarbons, Q-2, r. 29, s. 31",
    source: "Q-2, r. 29, s. 31",
    grade: "text-read",
    doubt: "That a top-off of a known leak falls under it is our reading.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ca-bc-approved",
    place: "ca-bc",
    topic: "who-may",
    title: "British Columbia: approved people service vehicle air conditioning",
    says: "Whoever services vehicle air conditioning must be an approved person with approved equipment.",
    binds: ["private-person", "paid-service"],
    citation: "B.C. Reg. 387/99",
    source: "The public insurer's policy for repair shops",
    grade: "second-hand",
    doubt: "Ask the Ministry of Environment whether an owner may add refrigerant.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "au-licence",
    place: "au",
    topic: "who-may",
    title: "Australia: a license to handle refrigerant",
    says: "Working on a vehicle's air conditioning with R-134a or R-12 needs a refrigerant handling license, and buying refrigerant needs a trading authorization. R-1234yf is not covered.",
    binds: ["private-person", "paid-service"],
    bars: [
      { option: "top-off", service: "diy", refrigerants: ["R-134a", "R-12"], when: "leaking" },
      { option: "dye-test", service: "diy", refrigerants: ["R-134a", "R-12"], when: "leaking" },
    ],
    citation: "Ozone Protection and Synthetic Greenhouse Gas Management Regulations 1995, reg. 111, 112",
    source: "Australian Refrigeration Council, the government's licensing board",
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "au-topping-up",
    place: "au",
    topic: "leak-repair",
    title: "Australia: topping off a leaking vehicle is an offense",
    says: "Adding refrigerant before leaks are looked for and fixed is not allowed, and can be an offense.",
    binds: ["private-person", "paid-service"],
    bars: [
      { option: "top-off", service: "shop", refrigerants: ["R-134a", "R-12"], when: "leaking" },
      { option: "dye-test", service: "shop", refrigerants: ["R-134a", "R-12"], when: "leaking" },
    ],
    citation: "Ozone Protection and Synthetic Greenhouse Gas Management Regulations 1995, reg. 136; Act 1989, s. 45B",
    source: "Australian Refrigeration Council, the government's licensing board",
    grade: "second-hand",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ch-leak",
    place: "ch",
    topic: "leak-repair",
    title: "Switzerland: the owner has a leak repaired without delay",
    says: "The owner of a vehicle's air conditioning with R-134a or R-12 has it checked for leaks at every service, and a leak repaired without delay.",
    binds: ["private-person", "paid-service"],
    bars: [
      { option: "top-off", service: "diy", refrigerants: ["R-134a", "R-12"], when: "leaking" },
      { option: "top-off", service: "shop", refrigerants: ["R-134a", "R-12"], when: "leaking" },
    ],
    citation: "Chemical Risk Reduction Ordinance (SR 814.81), Annex 2.10, no. 3.4",
    source: "Annex 2.10, no. 3.4, at a law publisher",
    grade: "text-read",
    doubt:
      "Whether an owner may buy and add refrigerant without a permit was not read. Ask the Federal Office for the Environment.",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "ch-records",
    place: "ch",
    topic: "records",
    title: "Switzerland: a maintenance log above 3 kg",
    says: "Systems with more than 3 kg have a log: date, work, leak check, amounts taken out and put in, name.",
    binds: ["paid-service"],
    citation: "Chemical Risk Reduction Ordinance (SR 814.81), Annex 2.10, no. 3.5",
    source: "Annex 2.10, no. 3.5, at a law publisher",
    grade: "text-read",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "us-wa-cans",
    place: "us-wa",
    topic: "buying",
    title: "Washington State: GWP limits for cans",
    says: "A rule adopted in November 2023 limits the GWP of refrigerant in car recharge cans. Whether R-134a may be sold was not read.",
    binds: ["seller", "private-person"],
    citation: "WAC 173-443-040",
    source: "Department of Ecology, notice of the rule; its table was not seen",
    grade: "second-hand",
    doubt: "Ask the Department of Ecology before you buy.",
    from: "2024-01-01",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "us-ny-494",
    place: "us-ny",
    topic: "buying",
    title: "New York: no bulk refrigerant above a GWP of 2200",
    says: "Bulk refrigerant with a GWP over 2200, such as R-12, may not be sold. R-134a is below that.",
    binds: ["seller"],
    citation: "6 NYCRR Part 494",
    source: "An account of Part 494; its text was not at hand",
    grade: "second-hand",
    from: "2025-01-09",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "mx-unknown",
    place: "mx",
    topic: "who-may",
    title: "Mexico: not verified",
    says: "We found no text. Ask the environment ministry: may an owner buy refrigerant and add it, and must a leak be repaired first?",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "no-unknown",
    place: "no",
    topic: "who-may",
    title: "Norway: not verified",
    says: "We found no text. Ask the Norwegian Environment Agency (EU rules may apply through the EEA): may an owner buy refrigerant and add it, and must a leak be repaired first?",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "nz-unknown",
    place: "nz",
    topic: "who-may",
    title: "New Zealand: not verified",
    says: "We found no text. Ask the Environmental Protection Authority: may an owner buy refrigerant and add it, and must a leak be repaired first?",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "jp-unknown",
    place: "jp",
    topic: "who-may",
    title: "Japan: not verified",
    says: "We found no text. Ask the Ministry of the Environment: may an owner buy refrigerant and add it, and must a leak be repaired first?",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "other-ask",
    place: "other",
    topic: "who-may",
    title: "Not verified: ask first",
    says: "We know no rule for this place. That does not mean that topping off is allowed: many places forbid venting, filling a leaking system, or selling refrigerant to owners. Ask the environmental authority or a shop.",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
  {
    ...NOTHING_MORE,
    checked: CHECKED_AGAIN,
    id: "elsewhere-ask",
    place: "elsewhere",
    topic: "who-may",
    title: "Say where the vehicle is",
    says: "Without a place no rule can be applied. That does not mean that topping off is allowed.",
    binds: ["private-person", "paid-service"],
    citation: "not known",
    source: "no source",
    grade: "not-verified",
  },
];
