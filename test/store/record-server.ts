/**
 * A server as small as can be on the store's own code, to be killed: `node record-server.ts DATABASE`.
 * `POST /` with `{ label, submit_key }` stores a vehicle with three log entries and a note, all or nothing, and answers
 * 201 once that is kept; `GET /` gives the labels. It goes on when the database cannot be used, and says why.
 */
import { once } from "node:events";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { text } from "node:stream/consumers";
import { Problem } from "../../src/core/problem.ts";
import { LazySql } from "../../src/store/lazy-sql.ts";
import { openDatabase } from "../../src/store/migrations.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { ensureLocalWorkspace, LOCAL_WORKSPACE } from "../../src/store/workspaces.ts";
import { CAN, VAN } from "./samples.ts";

const [, , file] = process.argv;
const now = () => new Date();
const random = (bytes: number) => crypto.getRandomValues(new Uint8Array(bytes));
const sql = new LazySql(async () => {
  const opened = await openDatabase(file as string);
  await ensureLocalWorkspace({ sql: opened, now });
  return opened;
});
const store = workspaceStore({ sql, workspaceId: LOCAL_WORKSPACE, role: "owner", actor: "local", now, random });

const server = createServer(async (request, response) => {
  try {
    if (request.method === "POST") {
      const { label, submit_key } = JSON.parse(await text(request));
      const records = { charge_log: [CAN, CAN, CAN], notes: [{ body: label }] };
      await store.vehicles.create({ ...VAN, label }, records, submit_key);
      response.writeHead(201).end();
    } else {
      const { items } = await store.vehicles.list({ limit: 100_000 });
      response.end(JSON.stringify(items.map(({ label }) => label)));
    }
  } catch (error) {
    response.writeHead(error instanceof Problem ? 503 : 500).end(String(error));
  }
});
server.listen(0, "127.0.0.1");
await once(server, "listening");
console.log(`ready at http://127.0.0.1:${(server.address() as AddressInfo).port}`);
