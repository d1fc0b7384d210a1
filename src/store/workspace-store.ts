import { cohort } from "../../data/model-constants.ts";
import type { LeakBelief } from "../core/question/contract.ts";
import type { ChargeEntry, ChargeEntryInput, FindingInput, FoundLeak, Note, Vehicle } from "../core/question/record.ts";
import type { ReadingsEntry, ReadingsInput } from "../core/readings/record.ts";
import { AccessKeys } from "./access.ts";
import { Assessments } from "./assessments.ts";
import { chargeLogTable } from "./charge-log.ts";
import { Customers } from "./customers.ts";
import { notFound } from "./errors.ts";
import { findingsTable } from "./findings.ts";
import { FleetImport } from "./fleet-import.ts";
import { FleetPlans } from "./fleet-plans.ts";
import { FleetReckoning } from "./fleet-reckoning.ts";
import { FleetTable } from "./fleet-table.ts";
import { beliefRow, FleetTermsStore, loggedRow, readBeliefs, readLogged, readTerms, termsRow } from "./fleet-terms.ts";
import { FollowUps } from "./follow-ups.ts";
import { Imports } from "./imports.ts";
import { Invoices } from "./invoices.ts";
import { Ledger } from "./ledger.ts";
import { Letterheads } from "./letterheads.ts";
import { notesTable } from "./notes.ts";
import { ownBookOf, PriceBooks, readOwnBooks } from "./price-books.ts";
import { QuoteVisits } from "./quote-visits.ts";
import { Quotes } from "./quotes.ts";
import { readingsTable } from "./readings.ts";
import { linesOf, RECORD_STAMP } from "./record-stamp.ts";
import { RefrigerantLog } from "./refrigerant-log.ts";
import { Scope, type ScopeOptions } from "./scope.ts";
import type { Row } from "./sql.ts";
import { Transfer } from "./transfer.ts";
import type { AssessedRecord, VehicleRecord } from "./vehicle-record.ts";
import { Vehicles, vehicleOf } from "./vehicles.ts";
import { Webhooks } from "./webhooks.ts";
import { WorkspaceSettings, workspaceOf } from "./workspaces.ts";

export interface RecordStamp {
  stamp: string;
  time_zone: string;
}

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
  readonly reckoning: FleetReckoning;
  readonly fleetImport: FleetImport;
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
  /** All that holds now about a vehicle, as it is in one moment. Throws `Problem` not-found. */
  record(vehicle_id: string): Promise<VehicleRecord>;
  /** The same of several vehicles, without notes, in the order given; one that is not here is left out. */
  records(vehicle_ids: readonly string[]): Promise<AssessedRecord[]>;
  /**
   * What changes whenever a record does, and takes less than reading it: settings, the vehicle, the number of lines in
   * its ledgers, which only ever grow, and its quotes. With it the time zone, for "today". Throws `Problem` not-found.
   */
  recordStamp(vehicle_id: string): Promise<RecordStamp>;
  /** What changes whenever any record of the workspace may have changed; null where this database cannot tell. */
  stamp(): Promise<string | null>;
}

export function workspaceStore(options: ScopeOptions): WorkspaceStore {
  const scope = new Scope(options);
  const settings = new WorkspaceSettings(scope);
  const chargeLog = new Ledger<ChargeEntry, ChargeEntryInput>(scope, chargeLogTable);
  const findings = new Ledger<FoundLeak, FindingInput>(scope, findingsTable);
  const readings = new Ledger<ReadingsEntry, ReadingsInput>(scope, readingsTable);
  const notes = new Ledger<Note>(scope, notesTable);
  const refrigerantLog = new RefrigerantLog(scope);
  const vehicles = new Vehicles(scope, { charge_log: chargeLog, findings, readings, notes });

  async function record(vehicle_id: string): Promise<VehicleRecord> {
    const [workspace, vehicle, charges, found, read, noted, books, terms, logged, beliefs] = await scope.batch([
      settings.reading,
      vehicles.reading(vehicle_id),
      chargeLog.listing(vehicle_id),
      findings.listing(vehicle_id),
      readings.listing(vehicle_id),
      notes.listing(vehicle_id),
      readOwnBooks,
      readTerms,
      readLogged([vehicle_id]),
      readBeliefs(cohort.vehicles_least),
    ]);
    if (vehicle!.length === 0) throw notFound("vehicle");
    return {
      workspace: workspaceOf(workspace![0]!),
      vehicle: vehicleOf(vehicle![0]!),
      charge_log: charges!.map(chargeLog.lineOf),
      findings: found!.map(findings.lineOf),
      readings: read!.map(readings.lineOf),
      notes: noted!.map(notes.lineOf),
      price_books: books!.map(ownBookOf),
      ...fleetSays(terms!, logged!, beliefs!)(vehicleOf(vehicle![0]!)),
    };
  }

  async function records(vehicle_ids: readonly string[]): Promise<AssessedRecord[]> {
    const [workspace, found_vehicles, charges, found, read, books, terms, logged, beliefs] = await scope.batch([
      settings.reading,
      vehicles.readingOfSeveral(vehicle_ids),
      chargeLog.listingOfSeveral(vehicle_ids),
      findings.listingOfSeveral(vehicle_ids),
      readings.listingOfSeveral(vehicle_ids),
      readOwnBooks,
      readTerms,
      readLogged(vehicle_ids),
      readBeliefs(cohort.vehicles_least),
    ]);
    const said = fleetSays(terms!, logged!, beliefs!);
    const price_books = books!.map(ownBookOf);
    const by_id = new Map(found_vehicles!.map((row) => [row.id as string, vehicleOf(row)]));
    const charges_of = Map.groupBy(charges!.map(chargeLog.lineOf), ({ vehicle_id }) => vehicle_id);
    const findings_of = Map.groupBy(found!.map(findings.lineOf), ({ vehicle_id }) => vehicle_id);
    const readings_of = Map.groupBy(read!.map(readings.lineOf), ({ vehicle_id }) => vehicle_id);
    return vehicle_ids.flatMap((id) => {
      const vehicle = by_id.get(id);
      if (vehicle === undefined) return [];
      const lines = {
        charge_log: charges_of.get(id) ?? [],
        findings: findings_of.get(id) ?? [],
        readings: readings_of.get(id) ?? [],
        price_books,
        ...said(vehicle),
      };
      return [{ workspace: workspaceOf(workspace![0]!), vehicle, ...lines }];
    });
  }

  async function recordStamp(vehicle_id: string): Promise<RecordStamp> {
    const [stamp] = await scope.all<RecordStamp>(
      `SELECT concat_ws('.', ${RECORD_STAMP}, ${linesOf("notes")},
         (SELECT concat_ws(' ', count(*), sum(version), max(updated_at), max(decided_at)) FROM quotes
          WHERE workspace_id = v.workspace_id AND vehicle_id = v.id),
         (SELECT concat_ws(' ', p.version, c.version) FROM vehicle_particulars AS p
          LEFT JOIN customers AS c ON c.workspace_id = p.workspace_id AND c.id = p.customer_id
          WHERE p.workspace_id = v.workspace_id AND p.vehicle_id = v.id),
         (SELECT concat_ws(' ', used_mean, used_sd, vehicles) FROM fleet_cohorts AS k
          WHERE k.workspace_id = v.workspace_id AND k.fleet_group = v.fleet_group),
         (SELECT concat_ws(' ', input_hash, as_of) FROM fleet_answers
          WHERE workspace_id = v.workspace_id AND vehicle_id = v.id)) AS stamp,
         w.time_zone FROM vehicles AS v JOIN workspaces AS w USING (workspace_id)
       WHERE v.workspace_id = :workspace AND v.id = ?`,
      [vehicle_id],
    );
    if (stamp === undefined) throw notFound("vehicle");
    return stamp;
  }

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
    reckoning: new FleetReckoning(scope),
    fleetImport: new FleetImport(scope),
    imports: new Imports(scope),
    priceBooks: new PriceBooks(scope),
    letterheads: new Letterheads(scope),
    quotes: new Quotes(scope, { charge_log: chargeLog, findings }, refrigerantLog),
    quoteVisits: new QuoteVisits(scope),
    customers: new Customers(scope),
    invoices: new Invoices(scope),
    refrigerantLog,
    followUps: new FollowUps(scope, { charge_log: chargeLog, findings }),
    webhooks: new Webhooks(scope),
    record,
    records,
    recordStamp,
    stamp: () => scope.stamp(),
  };
}

/** What the fleet says of a vehicle: its terms, whether every charge is logged, and how its group leaks. */
function fleetSays(terms: readonly Row[], logged: readonly Row[], beliefs: readonly Row[]) {
  const fleet_terms = terms.map(termsRow);
  const logged_of = new Map(logged.map(loggedRow).map((one) => [one.vehicle_id, one]));
  const belief_of = new Map(
    beliefs.map(beliefRow).map(({ fleet_group, ...belief }): [string, LeakBelief] => [fleet_group, belief]),
  );
  return ({ id, fleet_group }: Vehicle) => ({
    fleet_terms,
    logged: logged_of.get(id) ?? null,
    group_belief: fleet_group === null ? null : (belief_of.get(fleet_group) ?? null),
  });
}
