import type { Vehicle } from "../../src/core/question/record.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Finder, SearchField } from "../parts/finder.tsx";
import { FOR_ENTRY_PATH } from "../words/on-device.ts";
import { Facts } from "../words/said.tsx";

interface ForEntryPageProps {
  /** Vehicles, each with the address of its form, filled in. */
  shown: readonly { vehicle: Vehicle; form: string }[];
  /** How many there are in all. */
  found: number;
  search: string;
  /** The entry, field by field. */
  entry: Readonly<Record<string, string>>;
  asset: AssetUrl;
}

/** `/vehicles/for-entry`: asks which vehicle an entry is for. */
export function ForEntryPage({ shown, found, search, entry, asset }: ForEntryPageProps) {
  return (
    <Layout title="Which vehicle is it?" path="/vehicles" asset={asset}>
      <div class="page-head">
        <h1>Which vehicle is it?</h1>
        <p>Its form opens with your entry. Nothing is saved before you save it there.</p>
      </div>
      <Finder path={FOR_ENTRY_PATH}>
        {Object.entries(entry).map(([name, value]) => (
          <input type="hidden" name={name} value={value} />
        ))}
        <SearchField label="Search names, groups, notes" value={search} />
      </Finder>
      {shown.length === 0 && (
        <p>
          {search !== "" ? "No match. Try fewer words, or just the start of one." : "No vehicles yet."}{" "}
          <a href="/vehicles/new">Add a vehicle</a>, then come back to your waiting entries.
        </p>
      )}
      <ul class="vehicles-to-choose">
        {shown.map(({ vehicle: { label, refrigerant, fleet_group, depot }, form }) => (
          <li>
            <a href={form} dir="auto">
              {label}
            </a>{" "}
            <small>
              <Facts of={[refrigerant, fleet_group, depot]} />
            </small>
          </li>
        ))}
      </ul>
      {found > shown.length && (
        <p>
          These are {shown.length} of {found}. Search for the one you mean.
        </p>
      )}
    </Layout>
  );
}
