// Plain JavaScript, because its readers are the Node versions that cannot read TypeScript.
const NEEDED = 24;
const running = process.versions.node;

if (Number(running.split(".")[0]) < NEEDED) {
  console.error(
    `Seepwise needs Node ${NEEDED} or newer; this is Node ${running}.\n` +
      `Start it with "npm start", which uses the Node that "npm ci" installs on Linux, or install Node ${NEEDED}.`,
  );
  process.exit(1);
}
