import "./check-node.cjs";

// Only after the check: what the server imports fails on an older Node with an obscure error.
const { startServer } = await import("./server.ts");
startServer();
