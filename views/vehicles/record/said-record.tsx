import type { Child } from "hono/jsx";
import { LEAK_TESTS } from "../../../data/tests.ts";
import { formatMass } from "../../../src/core/quantities/format.ts";
import type { UnitSystem } from "../../../src/core/quantities/units.ts";
import type { Finding } from "../../../src/core/question/contract.ts";
import type { ChargeEntry } from "../../../src/core/question/record.ts";
import { COOLED_WORDS } from "../../words/cooled.ts";
import { PLACE_NAMES } from "../../words/places.ts";
import { Charge, Day } from "../../words/said.tsx";

/** What was done on a line of the charge log, in the order of a visit; without how it cooled. */
export function SaidDeed({ entry, units }: { entry: ChargeEntry; units: UnitSystem }) {
  const parts = deedParts(entry, units);
  if (parts.length === 0) return <>Checked only</>;
  return (
    <>
      {parts.map((part, i) => (
        <>
          {i > 0 && "; "}
          {part}
        </>
      ))}
    </>
  );
}

function deedParts(entry: ChargeEntry, units: UnitSystem): Child[] {
  const { recovered_g, repair, added_g, added_by, finish, dye, cooling_after } = entry;
  const parts: Child[] = [];
  if (recovered_g != null) parts.push(<>{mass(recovered_g, units)} recovered</>);
  if (repair != null) parts.push(<strong>repaired {PLACE_NAMES[repair].at}</strong>);
  if (added_g != null && added_g > 0)
    parts.push(
      <>
        {mass(added_g, units)} added {added_by === "scale" ? "by scale" : "from cans"}
      </>,
    );
  switch (finish) {
    case "weighed":
      parts.push("recharged full by weight");
      break;
    case "gauges":
      parts.push(added_g === 0 ? "level checked with manifold gauges" : "level checked with manifold gauges");
      break;
    case "low-side":
      parts.push(added_g === 0 ? "level checked with a low-side gauge" : "level checked with a low-side gauge");
      break;
    case "unknown":
      if (added_g == null) parts.push("topped off, amount unknown");
      break;
  }
  if (dye !== null) parts.push("dye added");
  if (cooling_after !== null) parts.push(`cooled ${COOLED_WORDS[cooling_after]} afterwards`);
  return [...parts, ...cansParts(entry)];
}

function cansParts({ cans_opened, deposit, deposit_return_by }: ChargeEntry): Child[] {
  const cans = cans_opened === null ? [] : [cans_opened === 1 ? "1 can opened" : `${cans_opened} cans opened`];
  if (deposit === null && deposit_return_by === null) return cans;
  const paid = deposit === null ? "deposit" : `deposit of ${deposit}`;
  if (deposit_return_by === null) return [...cans, `${paid} paid`];
  return [
    ...cans,
    <>
      {paid}: return the cans by <Day iso={deposit_return_by} />
    </>,
  ];
}

function mass(grams: number, units: UnitSystem) {
  return <Charge>{formatMass(grams, units)}</Charge>;
}

/** What a leak test showed, without its date. */
export function SaidFinding({ finding }: { finding: Finding }) {
  const { name } = LEAK_TESTS[finding.test];
  if (finding.location === "anywhere") return <>{name}: everywhere, nothing found</>;
  return finding.result === "leak" ? (
    <>
      {name}: <strong>leak at {PLACE_NAMES[finding.location].at}</strong>
    </>
  ) : (
    <>
      {name}: {PLACE_NAMES[finding.location].at} is clean
    </>
  );
}

/** Words that someone wrote, in their own direction and with their own lines. */
export function Written({ text }: { text: string }) {
  return (
    <p class="written" dir="auto">
      {text}
    </p>
  );
}
