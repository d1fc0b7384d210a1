import type { AssetUrl } from "../../views/assets.ts";
import type { UnitSystem } from "../core/quantities/units.ts";
import type { WaitingEntries } from "./waiting.ts";

/** What a browser gives to the app. */
export interface DeviceDeps {
  asset: AssetUrl;
  now(): Date;
  /** An IANA name like "America/Chicago". */
  time_zone: string;
  /** In which a bare amount is read. */
  units: UnitSystem;
  random(bytes: number): Uint8Array<ArrayBuffer>;
  /** What was written here and waits for a connection. */
  waiting: WaitingEntries;
}
