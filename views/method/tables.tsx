import { CLIMATES } from "../../data/climates.ts";
import { GWP_DATA } from "../../data/gwp.ts";
import { leakPriors } from "../../data/leak-priors.ts";
import * as constants from "../../data/model-constants.ts";
import { locationColumns, locationParameters, type NumberParameter } from "../../data/parameters.ts";
import { groupLeak } from "../../src/core/fleet/cohort.ts";
import { GWP_SETS, LOCATION_IDS, REFRIGERANTS, VEHICLE_KINDS } from "../../src/core/question/contract.ts";
import { FigureCell } from "../parts/figure-cell.tsx";
import { TableHead } from "../parts/table-head.tsx";
import { PLACE_NAMES } from "../words/places.ts";
import { plain, Scrolled } from "./scrolled.tsx";

interface ParameterTableProps {
  id: string;
  title: string;
  parameters: Readonly<Record<string, NumberParameter>>;
}

/** Numbers that a person can set: default, range, unit, meaning, source. */
export function ParameterTable({ id, title, parameters }: ParameterTableProps) {
  return (
    <Scrolled id={id} title={title} folded>
      <TableHead words={["Number"]} figures={["Default"]} />
      <tbody>
        {Object.entries(parameters).map(([name, parameter]) => (
          <tr data-parameter={name}>
            <th scope="row">
              {parameter.label}
              <small>{parameter.meaning}</small>
              <small class="source">Source: {parameter.source}</small>
            </th>
            <td class="figure-cell">
              <Default value={parameter.default} />
              <small>{parameter.unit}</small>
              <small>{range(parameter)}</small>
            </td>
          </tr>
        ))}
      </tbody>
    </Scrolled>
  );
}

/** Above this a number is as good as unbounded. */
const UNBOUNDED = 100_000;

function range({ min, max }: { min: number; max: number }): string {
  return max > UNBOUNDED ? `${plain(min)} or more` : `${plain(min)} to ${plain(max)}`;
}

/** One number, or one for each refrigerant or for who does the work. */
function Default({ value }: { value: NumberParameter["default"] }) {
  if (value === null) return <>none</>;
  if (typeof value === "number") return <data value={value}>{plain(value)}</data>;
  return (
    <>
      {Object.entries(value).map(([of, one]) => (
        <span class="default-of">
          {OF_NAMES[of] ?? of}: <data value={one}>{plain(one)}</data>
        </span>
      ))}
    </>
  );
}

const OF_NAMES: Readonly<Record<string, string>> = { diy: "at home", shop: "at a shop" };

const COLUMNS = ["share", "price", "holds", "service", "dye", "electronic", "visual"] as const;

/** What is assumed of each place where it may leak. */
export function LocationTable() {
  return (
    <>
      <Scrolled id="location-numbers" title="Places" folded>
        <thead>
          <tr>
            <th scope="col">Place</th>
            {COLUMNS.map((column) => (
              <th scope="col" class="figure-cell">
                {locationColumns[column].label}
                <small>{locationColumns[column].unit}</small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {LOCATION_IDS.map((id) => (
            <tr data-place={id}>
              <th scope="row">{PLACE_NAMES[id].name}</th>
              {COLUMNS.map((column) => (
                <FigureCell value={locationParameters[id][column]}>{plain(locationParameters[id][column])}</FigureCell>
              ))}
            </tr>
          ))}
        </tbody>
      </Scrolled>
      <ul class="bullets small">
        {COLUMNS.map((column) => (
          <li>
            {locationColumns[column].label}: {locationColumns[column].meaning} Source: {locationColumns[column].source}.
            Range: {range(locationColumns[column])}.
          </li>
        ))}
      </ul>
    </>
  );
}

/** Global warming potentials by set. */
export function WarmingTable() {
  return (
    <Scrolled id="warming-numbers" title="Global warming potentials" folded>
      <TableHead words={["Set"]} figures={["Over years", ...REFRIGERANTS]}>
        <th scope="col">Source</th>
      </TableHead>
      <tbody>
        {GWP_SETS.map((set) => (
          <tr>
            <th scope="row">{GWP_DATA[set].name}</th>
            <td class="figure-cell">{GWP_DATA[set].years}</td>
            {REFRIGERANTS.map((refrigerant) => (
              <FigureCell value={GWP_DATA[set].values[refrigerant]}>
                {plain(GWP_DATA[set].values[refrigerant])}
              </FigureCell>
            ))}
            <td class="source">{GWP_DATA[set].source}</td>
          </tr>
        ))}
      </tbody>
    </Scrolled>
  );
}

/** What is believed of a leak before there is a log, by kind of vehicle. */
export function KindPriors() {
  return (
    <Scrolled id="kind-numbers" title="Leak before there is a log, by kind of vehicle" folded>
      <TableHead words={["Kind"]} figures={["Best estimate, % a year", "Likely range"]}>
        <th scope="col">Source</th>
      </TableHead>
      <tbody>
        {VEHICLE_KINDS.map((kind) => {
          const { median, p05, p95 } = groupLeak(leakPriors[kind]);
          return (
            <tr data-kind={kind}>
              <th scope="row">{leakPriors[kind].label}</th>
              <FigureCell value={median}>{percents(median)}</FigureCell>
              <td class="figure-cell">
                {percents(p05)} to {percents(p95)}
              </td>
              <td class="source">{leakPriors[kind].source}</td>
            </tr>
          );
        })}
      </tbody>
    </Scrolled>
  );
}

function percents(share: number): string {
  return plain(Number((share * 100).toPrecision(2)));
}

/** The model's fixed numbers, by their names in the code. */
export function ModelConstants() {
  return (
    <details class="numbers" id="constants">
      <summary>Fixed numbers of the model, by their names in the code</summary>
      <p class="small">
        All are working assumptions unless the formulas above say otherwise. Shares of the nameplate charge where no
        unit is named.
      </p>
      <Scrolled id="constant-numbers" title="Fixed numbers" folded>
        <TableHead words={["Name"]} figures={["Value"]} />
        <tbody>
          {Object.entries(constants).flatMap(([name, value]) =>
            leaves(name, value).map(([path, leaf]) => (
              <tr>
                <th scope="row">
                  <code>{path}</code>
                </th>
                <td class="figure-cell">{leaf === null ? "the low line" : <data value={leaf}>{plain(leaf)}</data>}</td>
              </tr>
            )),
          )}
        </tbody>
      </Scrolled>
    </details>
  );
}

type Nested = number | null | readonly Nested[] | { readonly [name: string]: Nested };

/** Every number inside a constant, with its path. */
function leaves(path: string, value: Nested): [path: string, leaf: number | null][] {
  if (value === null || typeof value === "number") return [[path, value]];
  return Object.entries(value).flatMap(([name, inner]) => leaves(`${path}.${name}`, inner));
}

/** The climates to choose from, with their sources. */
export function Climates() {
  return (
    <details class="numbers" id="climates">
      <summary>Climates, mean temperature of each month</summary>
      <Scrolled id="climate-numbers" title="Climates, °C, January to December" folded>
        <TableHead words={["Climate", "Months", "Source"]} />
        <tbody>
          {CLIMATES.map(({ name, description, monthly_mean_c, source }) => (
            <tr>
              <th scope="row">
                {name}
                <small>{description}</small>
              </th>
              <td>{monthly_mean_c.map((t_c) => plain(t_c).replace("-", "−")).join(", ")}</td>
              <td class="source">{source}</td>
            </tr>
          ))}
        </tbody>
      </Scrolled>
    </details>
  );
}
