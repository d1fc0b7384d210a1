import "./check-node.cjs";

// Only after the check: what the server imports does not load on an older Node, and says so in riddles.
const { startServer } = await import("./server.ts");
startServer();
