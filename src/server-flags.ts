/**
 * Node's own flags for a server, wherever one is started; `npm start` names the same. The young generation is kept
 * small: left alone it grows by 100 MB while a fleet is imported, and keeps that while the fleet is worked out.
 */
export const SERVER_FLAGS = ["--enable-source-maps", "--max-semi-space-size=8"] as const;
