/** A charge entry kept on this device until there is a connection. */
export interface WaitingEntry {
  /** Submit key of its form: the server stores the entry once under it, however often it is sent. */
  key: string;
  /** Address it is sent to, `/vehicles/ID/log`; null until its vehicle is chosen. */
  path: string | null;
  /** What the person calls the vehicle; empty where the form belonged to a vehicle. */
  vehicle: string;
  /** The fields as a form sends them; words such as “today” are already replaced by their date. */
  form: string;
  /** When it was written, an instant in UTC. */
  written_at: string;
  /** Why the server refused it; null while it has not been sent. */
  problem: WaitingProblem | null;
}

/** The person has no access; the vehicle is not in these records; or a field has to be corrected. */
export type WaitingProblem = "no-access" | "no-vehicle" | "to-put-right";
