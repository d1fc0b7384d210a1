import type { Child } from "hono/jsx";
import type { LineHead, Vehicle } from "../../../src/core/question/record.ts";
import type { AssetUrl } from "../../assets.ts";
import { Layout } from "../../layout.tsx";
import { WayBack } from "../../parts/way-back.tsx";
import { LEDGERS, type LedgerName, vehiclePath } from "./record.ts";
import { Lines } from "./said-line.tsx";

interface HistoryPageProps {
  vehicle: Vehicle;
  ledger: LedgerName;
  lines: readonly { line: LineHead; said: Child }[];
  /** The address of what is older; null on the last page. */
  older: string | null;
  time_zone: string;
  asset: AssetUrl;
}

const NAMES: Readonly<Record<LedgerName, string>> = {
  log: "Charge log",
  findings: "Leak test results",
  readings: "Readings",
  notes: "Notes",
};

/** Every change ever made to a ledger of a vehicle, newest first. */
export function HistoryPage({ vehicle, ledger, lines, older, time_zone, asset }: HistoryPageProps) {
  return (
    <Layout title={`History: ${vehicle.label}`} path="/vehicles" asset={asset}>
      <div class="page-head">
        <WayBack href={vehiclePath(vehicle.id)}>{vehicle.label}</WayBack>
        <h1>History</h1>
        <nav aria-label="Parts of the record">
          <ul class="tries">
            {LEDGERS.map((name) => (
              <li>
                {name === ledger ? (
                  <strong aria-current="page">{NAMES[name]}</strong>
                ) : (
                  <a href={vehiclePath(vehicle.id, name, "history")}>{NAMES[name]}</a>
                )}
              </li>
            ))}
          </ul>
        </nav>
      </div>
      {lines.length === 0 ? (
        <p>No entries yet.</p>
      ) : (
        <Lines
          lines={lines.map(({ line, said }) => ({ line, said, href: vehiclePath(vehicle.id, ledger, line.id) }))}
          time_zone={time_zone}
        />
      )}
      {older !== null && (
        <p>
          <a href={older}>Older changes</a>
        </p>
      )}
    </Layout>
  );
}
