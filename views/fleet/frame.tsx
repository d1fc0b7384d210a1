import type { Child } from "hono/jsx";
import type { AssetUrl } from "../assets.ts";
import { Layout } from "../layout.tsx";
import { ErrorSummary, type FieldError } from "../parts/error-summary.tsx";
import { Places } from "../parts/places.tsx";

const PAGES = [
  { href: "/fleet", name: "All vehicles" },
  { href: "/fleet/budget", name: "Budget" },
  { href: "/fleet/plan", name: "Plan" },
  { href: "/fleet/audit", name: "Yearly audit" },
  { href: "/fleet/predictions", name: "Past predictions" },
  { href: "/fleet/import", name: "Import", editors: true },
  { href: "/fleet/terms", name: "Prices and records" },
] as const;

interface FleetFrameProps {
  title: string;
  path: string;
  asset: AssetUrl;
  errors?: readonly FieldError[];
  charts?: boolean;
  /** Who may not is not led to what they could not do. */
  may_edit?: boolean;
  children: Child;
}

/** The frame of the fleet's pages: their names above, one of them marked. */
export function FleetFrame({
  title,
  path,
  asset,
  errors = [],
  charts = false,
  may_edit = true,
  children,
}: FleetFrameProps) {
  return (
    <Layout title={title} errors={errors} summary={false} path="/fleet" asset={asset} charts={charts && "fleet"} live>
      <nav class="fleet-places" aria-label="Fleet">
        <Places places={PAGES.filter((one) => may_edit || !("editors" in one))} path={path} />
      </nav>
      {errors.length > 0 && <ErrorSummary errors={errors} />}
      {children}
    </Layout>
  );
}
