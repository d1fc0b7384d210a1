/** The four ledgers of a vehicle, as their addresses name them. */
export const LEDGERS = ["log", "findings", "readings", "notes"] as const;
export type LedgerName = (typeof LEDGERS)[number];

/** Something of a vehicle at its address. */
export function vehiclePath(vehicle_id: string, ...parts: string[]): string {
  return ["/vehicles", vehicle_id, ...parts].join("/");
}
