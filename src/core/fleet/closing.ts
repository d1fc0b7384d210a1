import type { GwpSet } from "../question/contract.ts";
import type { AuditRow } from "./row.ts";

/** A year of the audit that was closed: reported, and kept as it was then. */
export interface ClosedYear {
  year: number;
  /** A year may be closed anew; each closing is kept. From 1. */
  number: number;
  model_version: string;
  /** The warming potentials that were reported with. */
  gwp: GwpSet;
  /** In use when it was closed, with and without a record. */
  vehicles: number;
  closed_at: string;
  closed_by: string;
  /** Closed by mistake; null: it stands. */
  reopened_at: string | null;
  reopened_by: string | null;
}

/** A vehicle of a closed year. */
export type ClosedRow = Omit<AuditRow, "id"> & Pick<ClosedYear, "number"> & { vehicle_id: string };

/** What the records say of a vehicle now, against what was reported. */
export interface Correction {
  label: string;
  what: "changed" | "added" | "gone";
  charged: { then_g: number; now_g: number };
  recovered: { then_g: number; now_g: number };
}

/** Grams that are no change but a rounding. */
const SAME_G = 0.5;

/** Vehicles whose records of the year say something else now than when it was closed, by name. */
export function correctionsOf(then: readonly ClosedRow[], now: readonly AuditRow[]): Correction[] {
  const before = new Map(then.map((row) => [row.vehicle_id, row]));
  const after = new Map(now.map((row) => [row.id, row]));
  const found: Correction[] = [];
  for (const id of new Set([...before.keys(), ...after.keys()])) {
    const [was, is] = [before.get(id), after.get(id)];
    const charged = { then_g: was?.added_g ?? 0, now_g: is?.added_g ?? 0 };
    const recovered = { then_g: was?.recovered_g ?? 0, now_g: is?.recovered_g ?? 0 };
    const differs = [charged, recovered].some(({ then_g, now_g }) => Math.abs(then_g - now_g) >= SAME_G);
    const what = was === undefined ? "added" : is === undefined ? "gone" : "changed";
    if (differs || what !== "changed") found.push({ label: (is ?? was)!.label, what, charged, recovered });
  }
  return found.sort((a, b) => (a.label < b.label ? -1 : 1));
}
