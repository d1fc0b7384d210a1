import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { GivenOutAs } from "../edge/take-in.ts";
import { chargeLogCsv } from "./charge-log-csv.ts";

/** The text of a file of a workspace's records, made here and now, as of one moment. */
export async function givenOut({ transfer }: WorkspaceStore, as: GivenOutAs): Promise<Uint8Array<ArrayBuffer>> {
  const text = as === "records" ? JSON.stringify(await transfer.export()) : chargeLogCsv(await transfer.charges());
  return new TextEncoder().encode(text);
}
