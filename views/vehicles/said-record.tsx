import type { Child } from "hono/jsx";
import { LEAK_TESTS } from "../../data/tests.ts";
import type { Cooling, Finding, LogEntry } from "../../src/core/contract.ts";
import { formatMass } from "../../src/core/format.ts";
import type { UnitSystem } from "../../src/core/units.ts";
import { PLACE_NAMES } from "../words/places.ts";
import { Charge } from "../words/said.tsx";

/** How it cooled, as a word after "cooled". */
export const COOLED_WORDS: Readonly<Record<Cooling, string>> = {
  ok: "well",
  weak: "weakly",
  "short-cycling": "rapid on and off",
  empty: "no pressure left",
};

/** What was done on a line of the charge log, in the order of a visit; without how it cooled. */
export function SaidDeed({ entry, units }: { entry: Deed; units: UnitSystem }) {
  const parts = deedParts(entry, units);
  if (parts.length === 0) return <>Only looked</>;
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

type Deed = LogEntry & { dye: "added" | null };

function deedParts({ recovered_g, repair, added_g, added_by, finish, dye }: Deed, units: UnitSystem): Child[] {
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
      parts.push("charged full by weight");
      break;
    case "gauges":
      parts.push(added_g === 0 ? "level checked by a two-gauge set" : "filled by a two-gauge set");
      break;
    case "low-side":
      parts.push(added_g === 0 ? "level checked by a low-side gauge" : "filled by a low-side gauge");
      break;
    case "unknown":
      if (added_g == null) parts.push("topped off, amount not known");
      break;
  }
  if (dye !== null) parts.push("dye put in");
  return parts;
}

function mass(grams: number, units: UnitSystem) {
  return <Charge>{formatMass(grams, units)}</Charge>;
}

/** What a leak test showed, without its date. */
export function SaidFinding({ finding }: { finding: Finding }) {
  const { name } = LEAK_TESTS[finding.test];
  if (finding.location === "anywhere") return <>{name}: looked everywhere, nothing seen</>;
  return finding.result === "leak" ? (
    <>
      {name}: <strong>leak seen at {PLACE_NAMES[finding.location].at}</strong>
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
