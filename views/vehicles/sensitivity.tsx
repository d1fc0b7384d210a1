import { GLOSSARY, type GlossaryId } from "../../data/glossary.ts";
import type { Vehicle } from "../../src/core/question/record.ts";
import { BreakEvens } from "../answer/change.tsx";
import { Sensitivity } from "../answer/charts/sensitivity.tsx";
import type { Outcome } from "../answer/outcome.ts";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { Entry } from "../parts/entry.tsx";
import { Definitions } from "../parts/term.tsx";
import { WayBack } from "../parts/way-back.tsx";
import { vehiclePath } from "./record/record.ts";

/**
 * In the place of the sensitivity chart, which takes as long as all the rest of a page: fetched when it comes in sight,
 * or by following the link.
 */
export function SensitivityLater({ vehicle_id, address }: { vehicle_id: string; address: string }) {
  const path = `${vehiclePath(vehicle_id, "sensitivity")}${address.replace(/^[^?]*/, "")}`;
  return (
    <div class="later" id="sensitivity-later" hx-get={path} hx-trigger="revealed" hx-swap="outerHTML">
      <p class="on-screen">
        <a href={path}>Which assumption matters most?</a>
      </p>
    </div>
  );
}

/** The chart alone, for the page that is there already. */
export function SensitivityFragment({ outcome }: { outcome: Outcome }) {
  return <Sensitivity outcome={outcome} />;
}

interface SensitivityPageProps {
  vehicle: Vehicle;
  outcome: Outcome;
  /** The address of the answer that this is about. */
  back: string;
  asset: AssetUrl;
}

/** The sensitivity of a vehicle's answer as a page of its own. */
export function SensitivityPage({ vehicle, outcome, back, asset }: SensitivityPageProps) {
  return (
    <Layout title={`What would change it: ${vehicle.label}`} path="/vehicles" asset={asset} charts>
      <div class="page-head">
        <WayBack href={back}>{vehicle.label}</WayBack>
        <h1>What would change the answer</h1>
      </div>
      <Entry name="Break-even">
        <BreakEvens outcome={outcome} />
      </Entry>
      <Entry name="Assumptions">
        <Sensitivity outcome={outcome} />
      </Entry>
      <Definitions of={Object.keys(GLOSSARY) as GlossaryId[]} />
    </Layout>
  );
}
