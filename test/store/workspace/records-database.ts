import type { AssessAnswer, AssessRequest } from "../../../src/core/question/contract.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { Database } from "../database.ts";
import { CAN, DYE_CLEAN, READ_LOW, VAN } from "../samples.ts";

/** Stands for the model: what it computes is not the store's business. */
export const anAnswer = { as_of: "2026-05-01" } as AssessAnswer;
export const aQuestion: AssessRequest = { as_of: "2026-05-01", vehicle: { refrigerant: "R-134a", nameplate_g: 650 } };

/** Ids of things in one workspace, to be tried from another. */
export interface Ids {
  vehicle: string;
  entry: string;
  finding: string;
  readings: string;
  note: string;
  key: string;
}

/** A database with a vehicle that has a line in each of its ledgers. */
export class RecordsDatabase extends Database {
  async storeWithRecords(): Promise<{ store: WorkspaceStore; ids: Ids }> {
    const store = await this.newStore();
    const records = {
      charge_log: [CAN],
      findings: [DYE_CLEAN],
      readings: [READ_LOW],
      notes: [{ body: "mine" }],
    };
    const { id: vehicle } = await store.vehicles.create(VAN, records);
    const { charge_log, findings, readings, notes } = await store.record(vehicle);
    const { id: key } = await store.accessKeys.create("api", "editor", "laptop");
    const [entry, finding, read, note] = [charge_log[0]!.id, findings[0]!.id, readings[0]!.id, notes[0]!.id];
    return { store, ids: { vehicle, entry, finding, readings: read, note, key } };
  }
}
