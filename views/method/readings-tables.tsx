import { features, findingPriors } from "../../data/readings-table.ts";
import { FEATURE_IDS, type FeatureId, FINDING_IDS } from "../../src/core/readings/readings-contract.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { FINDING_WORDS } from "../readings/finding-words.ts";
import { plain, Scrolled } from "./scrolled.tsx";

/** How findings are weighed: how common each is, and how often it shows each reading, with the reason. */
export function ReadingsTables() {
  return (
    <>
      <Scrolled id="finding-numbers" title="Possible causes, before anything is read" folded>
        <TableHead words={["Possible cause"]} figures={["Share"]} />
        <tbody>
          {FINDING_IDS.map((id) => (
            <tr>
              <th scope="row">
                {FINDING_WORDS[id].name}
                <small>{findingPriors[id].why}</small>
                <small class="source">Source: {findingPriors[id].source}</small>
              </th>
              <FigureCell value={findingPriors[id].share}>{plain(findingPriors[id].share)}</FigureCell>
            </tr>
          ))}
        </tbody>
      </Scrolled>
      {FEATURE_IDS.map((id) => (
        <FeatureTable id={id} />
      ))}
    </>
  );
}

/** The share of systems with a finding that show each reading. */
function FeatureTable({ id }: { id: FeatureId }) {
  const { label, bands, rows, source } = features[id];
  return (
    <details class="numbers" id={`feature-${id}`}>
      <summary>{label}</summary>
      <Scrolled id={`feature-${id}-numbers`} title={label}>
        <TableHead words={["Possible cause"]} figures={bands.map(({ label }) => label)} />
        <tbody>
          {FINDING_IDS.map((finding) => (
            <tr>
              <th scope="row">
                {FINDING_WORDS[finding].name}
                <small>{rows[finding].why}</small>
              </th>
              {rows[finding].shares.map((share) => (
                <FigureCell value={share}>{plain(share)}</FigureCell>
              ))}
            </tr>
          ))}
        </tbody>
      </Scrolled>
      <p class="small">Source: {source}.</p>
    </details>
  );
}
