import type { Vehicle } from "../../src/core/question/record.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";

interface WayBackPageProps {
  vehicle: Vehicle;
  /** The address of the vehicle's page. */
  onward: string;
  /** A link that opens these records elsewhere, once. */
  way_back: string;
  asset: AssetUrl;
}

/** After the first vehicle of someone new: how to get to it from elsewhere. It is told once. */
export function WayBackPage({ vehicle, onward, way_back, asset }: WayBackPageProps) {
  return (
    <Layout title={`Saved: ${vehicle.label}`} path="/vehicles" asset={asset}>
      <div class="page-head">
        <h1>
          Saved: <bdi>{vehicle.label}</bdi>
        </h1>
        <p>This browser now has access. There is no user name or password.</p>
      </div>
      <h2>The way back</h2>
      <p>
        Keep this link private. It opens these records on another device, or here if this browser forgets you. It works
        once and is shown only on this page.
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
