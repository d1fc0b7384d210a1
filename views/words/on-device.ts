/** What a page says, first of all, that this device made by itself. */
export const ON_DEVICE = "No good connection: calculated on this device, with general prices.";

/** The id of the line that says so. */
export const ON_DEVICE_ID = "on-device";

/** The header of an answer that this device made, for a part of a page that is there already. */
export const ON_DEVICE_HEADER = "Seepwise-On-Device";

/** The header in which a page says which worker it came with: the address of that worker's file. */
export const CAME_WITH_HEADER = "Seepwise-Came-With";

/** Where an entry is written while there is no connection, and where those that wait are listed. */
export const WRITE_DOWN_PATH = "/write-down";
export const WAITING_PATH = "/waiting";

/** Where the server asks which vehicle an entry is for, and the field with the key that it waited under. */
export const FOR_ENTRY_PATH = "/vehicles/for-entry";
export const WAITED = "waited";

/** The words of the link to `WRITE_DOWN_PATH`. */
export const WRITE_DOWN = "Write down what you did";

/** The id of the line that says how many entries wait. */
export const WAITING_ID = "waiting";

/** How many entries wait, on the link to them. */
export function saidWaiting(count: number): string {
  return count === 1 ? "1 entry waits on this device" : `${count} entries wait on this device`;
}

/** What a page asks of its worker: how many entries wait; and before that, to send them. */
export interface WaitingQuestion {
  send: boolean;
}
