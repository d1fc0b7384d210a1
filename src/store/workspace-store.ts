import type { ChargeEntry, ChargeEntryInput, FindingInput, FoundLeak, Note } from "../core/question/record.ts";
import type { ReadingsEntry, ReadingsInput } from "../core/readings/record.ts";
import { AccessKeys } from "./access.ts";
import { Assessments } from "./assessments.ts";
import { chargeLogTable } from "./charge-log.ts";
import { Customers } from "./customers.ts";
import { findingsTable } from "./findings.ts";
import { FleetClosings } from "./fleet-closings.ts";
import { FleetImport } from "./fleet-import.ts";
import { FleetPlans } from "./fleet-plans.ts";
import { FleetReckoning } from "./fleet-reckoning.ts";
import { FleetTable } from "./fleet-table.ts";
import { FleetTermsStore } from "./fleet-terms.ts";
import { FleetUpsert } from "./fleet-upsert.ts";
import { FollowUps } from "./follow-ups.ts";
import { takeBack } from "./import-undo.ts";
import { Imports } from "./imports.ts";
import { Invoices } from "./invoices.ts";
import { Ledger } from "./ledger.ts";
import { Letterheads } from "./letterheads.ts";
import { notesTable } from "./notes.ts";
import { Predictions } from "./predictions.ts";
import { PriceBooks } from "./price-books.ts";
import { QuoteVisits } from "./quote-visits.ts";
import { Quotes } from "./quotes.ts";
import { readingsTable } from "./readings.ts";
import { RecordReader } from "./record-reader.ts";
import { RefrigerantLog } from "./refrigerant-log.ts";
import { Scope, type ScopeOptions } from "./scope.ts";
import { Transfer } from "./transfer.ts";
import { Vehicles } from "./vehicles.ts";
import { Webhooks } from "./webhooks.ts";
import { WorkspaceSettings } from "./workspaces.ts";

/**
 * The records of one workspace, as one actor sees and changes them.
 *
 *     const store = workspaceStore({ sql, workspaceId: "local", role: "owner", actor: "local", now, random });
 *     const { items } = await store.vehicles.list({ search: "van" });
 *     await store.chargeLog.add(items[0].id, { date: "2026-05-01", cooling: "weak", added_g: 340 }, submit_key);
 */
export interface WorkspaceStore {
  readonly workspaceId: string;
  readonly settings: WorkspaceSettings;
  readonly vehicles: Vehicles;
  readonly chargeLog: Ledger<ChargeEntry, ChargeEntryInput>;
  readonly findings: Ledger<FoundLeak, FindingInput>;
  readonly readings: Ledger<ReadingsEntry, ReadingsInput>;
  readonly notes: Ledger<Note>;
  readonly assessments: Assessments;
  readonly accessKeys: AccessKeys;
  readonly transfer: Transfer;
  readonly fleet: FleetTable;
  readonly fleetTerms: FleetTermsStore;
  readonly fleetPlans: FleetPlans;
  readonly fleetClosings: FleetClosings;
  readonly reckoning: FleetReckoning;
  readonly predictions: Predictions;
  readonly fleetImport: FleetImport;
  readonly fleetUpsert: FleetUpsert;
  readonly imports: Imports<unknown, unknown, unknown>;
  readonly priceBooks: PriceBooks;
  readonly letterheads: Letterheads;
  readonly quotes: Quotes;
  readonly quoteVisits: QuoteVisits;
  readonly customers: Customers;
  readonly invoices: Invoices;
  readonly refrigerantLog: RefrigerantLog;
  readonly followUps: FollowUps;
  readonly webhooks: Webhooks;
  readonly record: RecordReader["record"];
  readonly records: RecordReader["records"];
  readonly recordStamp: RecordReader["stamp"];
  /** What changes whenever any record of the workspace may have changed; null where this database cannot tell. */
  stamp(): Promise<string | null>;
}

/** The store of one workspace: all its repositories on one scope. */
export function workspaceStore(options: ScopeOptions): WorkspaceStore {
  const scope = new Scope(options);
  const settings = new WorkspaceSettings(scope);
  const chargeLog = new Ledger<ChargeEntry, ChargeEntryInput>(scope, chargeLogTable);
  const findings = new Ledger<FoundLeak, FindingInput>(scope, findingsTable);
  const readings = new Ledger<ReadingsEntry, ReadingsInput>(scope, readingsTable);
  const notes = new Ledger<Note>(scope, notesTable);
  const refrigerantLog = new RefrigerantLog(scope);
  const ledgers = { charge_log: chargeLog, findings, readings, notes };
  const vehicles = new Vehicles(scope, ledgers);
  const reader = new RecordReader(scope, { settings, vehicles, ledgers });

  return {
    workspaceId: scope.workspaceId,
    settings,
    vehicles,
    chargeLog,
    findings,
    readings,
    notes,
    assessments: new Assessments(scope),
    accessKeys: new AccessKeys(scope),
    transfer: new Transfer(scope),
    fleet: new FleetTable(scope),
    fleetTerms: new FleetTermsStore(scope),
    fleetPlans: new FleetPlans(scope),
    fleetClosings: new FleetClosings(scope),
    reckoning: new FleetReckoning(scope),
    predictions: new Predictions(scope),
    fleetImport: new FleetImport(scope, (import_id) => takeBack(scope, import_id)),
    fleetUpsert: new FleetUpsert(scope),
    imports: new Imports(scope),
    priceBooks: new PriceBooks(scope),
    letterheads: new Letterheads(scope),
    quotes: new Quotes(scope, ledgers, refrigerantLog),
    quoteVisits: new QuoteVisits(scope),
    customers: new Customers(scope),
    invoices: new Invoices(scope),
    refrigerantLog,
    followUps: new FollowUps(scope, ledgers),
    webhooks: new Webhooks(scope),
    record: (vehicle_id) => reader.record(vehicle_id),
    records: (vehicle_ids) => reader.records(vehicle_ids),
    recordStamp: (vehicle_id) => reader.stamp(vehicle_id),
    stamp: () => scope.stamp(),
  };
}
