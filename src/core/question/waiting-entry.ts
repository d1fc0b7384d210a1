/** An entry that waits on this device for a connection. */
export interface WaitingEntry {
  /** The submit key of its form: under it the server stores it once, however often it arrives. */
  key: string;
  /** Where it is sent: `/vehicles/ID/log`. Null until its vehicle is chosen. */
  path: string | null;
  /** What the person calls the vehicle; empty where the form was a vehicle's own. */
  vehicle: string;
  /** The fields as a form sends them, with what depends on the day of writing made plain. */
  form: string;
  /** An instant. */
  written_at: string;
  /** Why the server did not take it; null while it was not asked. */
  problem: WaitingProblem | null;
}

/** No access here; the vehicle is not in these records; something in it is to be put right. */
export type WaitingProblem = "no-access" | "no-vehicle" | "to-put-right";
