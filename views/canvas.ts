/** The colour behind every page, for what the browser draws around it: as `--paper` in the style sheet has it. */
export const CANVAS = { light: "#fbfaf6", dark: "#15191b" } as const;
