import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Migration } from "../../src/store/schema-versions.ts";
import { ROOT } from "../support/paths.ts";

/** A change of `data/migrations` that landed: files that came, one that got another name, one whose text changed. */
type Step = { came: string[] } | { renamed: [string, string] } | { changed: string };

/**
 * Every change that landed, in the order in which it did (`git log --reverse -- data/migrations`). After each of them
 * there were databases of that schema. A new file goes to the end.
 */
const STEPS: readonly Step[] = [
  { came: ["0001_records", "0002_access"] },
  { came: ["0003_quotes"] },
  { came: ["0004_dye"] },
  { came: ["0005_fleet"] },
  { changed: "0005_fleet" },
  { came: ["0006_readings"] },
  { changed: "0005_fleet" },
  { changed: "0006_readings" },
  { came: ["0007_fleet_indexes"] },
  { came: ["0008_session_expiry"] },
  { came: ["0008_more_readings"] },
  { came: ["0009_quote_answers"] },
  { renamed: ["0008_session_expiry", "0010_session_expiry"] },
  { came: ["0011_customers"] },
  { came: ["0012_book_currency"] },
  { came: ["0012_invoices"] },
  { came: ["0013_refrigerant_log"] },
  { renamed: ["0013_refrigerant_log", "0014_refrigerant_log"] },
  { renamed: ["0012_invoices", "0013_invoices"] },
  { changed: "0012_book_currency" },
  ...["0015_vehicle_kind", "0016_follow_ups", "0017_fleet_terms"].map((name) => ({ came: [name] })),
  { came: ["0018_vague_dates"] },
  { came: ["0018_webhooks"] },
  { renamed: ["0018_webhooks", "0019_webhooks"] },
  ...["0020_languages", "0021_quote_visits", "0022_fleet_plans"].map((name) => ({ came: [name] })),
  ...["0023_fleet_marks", "0024_fleet_audit", "0024_imports"].map((name) => ({ came: [name] })),
  { renamed: ["0024_imports", "0025_imports"] },
  { came: ["0028_past_predictions"] },
  { came: ["0026_agreements", "0027_extra_work"] },
  { came: ["0032_book_names"] },
  { came: ["0030_external_ids", "0031_fleet_told"] },
  { came: ["0034_taking_back"] },
  { came: ["0035_odometers"] },
];

/** What differs between the text of today and an older one: [today, then]. */
type Older = readonly (readonly [string | RegExp, string])[];

const DETAILS = /CREATE TABLE fleet_details[^;]*STRICT;/;
const WHOLE_ANSWER = [
  "as_of           TEXT",
  "answer TEXT NOT NULL CHECK (json_valid(answer)),\n  as_of TEXT",
] as const;
const DAY_OF_A_LOG = /(?<=CREATE TABLE fleet_logs [^;]*)as_of[^\n]*\n/;

/** The texts before each change of a file, oldest first. */
const OLDER: Readonly<Record<string, readonly Older[]>> = {
  "0005_fleet": [
    [WHOLE_ANSWER, [DETAILS, ""], [DAY_OF_A_LOG, ""]],
    [WHOLE_ANSWER, [DETAILS, ""]],
  ],
  "0006_readings": [[[/ALTER TABLE charge_log ADD COLUMN cooling_after[^;]*;/, ""]]],
  "0012_book_currency": [
    [
      ["DROP TRIGGER quotes_stay_as_sent;", ""],
      [/CREATE TRIGGER quotes_stay_as_sent[\s\S]*?END;/, ""],
    ],
  ],
};

/** A schema that databases have had. */
export interface LandedSchema {
  /** From 1 on. */
  number: number;
  /** The change that brought it about. */
  after: string;
  /** What they remember, in the order in which it was applied, as it was called and as it read. */
  migrations: readonly Migration[];
}

/** Every schema that landed, oldest first; the last one is today's. */
export function landedSchemas(): LandedSchema[] {
  const names: { landed: string; now: string }[] = [];
  const changes = new Map<string, number>();
  return STEPS.map((step, i) => {
    if ("came" in step) names.push(...step.came.map((name) => ({ landed: name, now: nowCalled(name) })));
    else if ("renamed" in step) names.find(({ landed }) => landed === step.renamed[0])!.landed = step.renamed[1];
    else changes.set(step.changed, (changes.get(step.changed) ?? 0) + 1);
    return {
      number: i + 1,
      after: Object.values(step).flat().join(", "),
      migrations: names.map(({ landed, now }) => ({ name: `${landed}.sql`, sql: textOf(now, changes.get(now) ?? 0) })),
    };
  });
}

function nowCalled(name: string): string {
  const step = STEPS.find((one) => "renamed" in one && one.renamed[0] === name);
  return step !== undefined && "renamed" in step ? step.renamed[1] : name;
}

/** A file as it read after so many changes. Throws when the older text cannot be made of today's any more. */
function textOf(name: string, changed: number): string {
  const text = readFileSync(join(ROOT, "data/migrations", `${name}.sql`), "utf8");
  return (OLDER[name]?.[changed] ?? []).reduce((read, [today, older]) => {
    const before = read.replace(today, older);
    if (before === read) throw new Error(`${name}: ${today} is not there`);
    return before;
  }, text);
}
