import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import type { ShownVehicle } from "./record/record.ts";

interface WayBackPageProps {
  vehicle: ShownVehicle;
  /** The address of the vehicle's page. */
  onward: string;
  /** A link that opens these records elsewhere, once. */
  way_back: string;
  asset: AssetUrl;
}

/** After the first vehicle of someone new: how to get to it from elsewhere. It is told once. */
export function WayBackPage({ vehicle, onward, way_back, asset }: WayBackPageProps) {
  return (
    <Layout title={`Kept: ${vehicle.label} · Seepwise`} path="/vehicles" asset={asset}>
      <div class="page-head">
        <h1>
          Kept: <bdi>{vehicle.label}</bdi>
        </h1>
        <p>This browser is let in to it from now on. There is no name and no password.</p>
      </div>
      <h2>The way back</h2>
      <p>
        For another device, or for the day on which this browser forgets: keep this link where nobody else sees it. It
        works once, and this page is the only place where it stands.
      </p>
      <p class="way-back-link">
        <code>{way_back}</code>
      </p>
      <p class="actions">
        <a class="button" href={onward}>
          Go to the vehicle
        </a>
      </p>
    </Layout>
  );
}
