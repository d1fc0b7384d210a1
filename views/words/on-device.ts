/** What a page says, first of all, that this device made by itself. */
export const ON_DEVICE = "No good connection: calculated on this device, with general prices. Saving has to wait.";

/** The id of the line that says so. */
export const ON_DEVICE_ID = "on-device";

/** The header of an answer that this device made, for a part of a page that is there already. */
export const ON_DEVICE_HEADER = "Seepwise-On-Device";

/** The header in which a page says which worker it came with: the address of that worker's file. */
export const CAME_WITH_HEADER = "Seepwise-Came-With";
