import { setPriority } from "node:os";

/** A middle value of the scale that ends at 19. */
const PATIENT = 10;
let is_patient = false;

/** From now on this thread takes only what those that answer requests leave. */
export function letOthersGoFirst(): void {
  // On Linux a priority is that of a thread; elsewhere it would be that of the whole server.
  if (!is_patient && process.platform === "linux") setPriority(0, PATIENT);
  is_patient = true;
}
