import { cohort } from "../../data/model-constants.ts";
import type { LeakBelief } from "../core/question/contract.ts";
import type { Vehicle } from "../core/question/record.ts";
import { notFound } from "./errors.ts";
import { beliefRow, loggedRow, readBeliefs, readLogged, readTerms, termsRow } from "./fleet-terms.ts";
import { ownBookOf, readOwnBooks } from "./price-books.ts";
import { linesOf, RECORD_STAMP } from "./record-stamp.ts";
import type { Scope } from "./scope.ts";
import type { Row } from "./sql.ts";
import type { VehicleLedgers } from "./vehicle-ledgers.ts";
import type { AssessedRecord, VehicleRecord } from "./vehicle-record.ts";
import { type Vehicles, vehicleOf } from "./vehicles.ts";
import { type WorkspaceSettings, workspaceOf } from "./workspaces.ts";

export interface RecordStamp {
  stamp: string;
  time_zone: string;
}

/** What a vehicle's record is read from. */
interface Read {
  settings: WorkspaceSettings;
  vehicles: Vehicles;
  ledgers: VehicleLedgers;
}

/** Reads the record of a vehicle, all its parts as they are in one moment. */
export class RecordReader {
  readonly #scope: Scope;
  readonly #settings: WorkspaceSettings;
  readonly #vehicles: Vehicles;
  readonly #ledgers: VehicleLedgers;

  constructor(scope: Scope, { settings, vehicles, ledgers }: Read) {
    this.#scope = scope;
    this.#settings = settings;
    this.#vehicles = vehicles;
    this.#ledgers = ledgers;
  }

  /** All that holds now about a vehicle, as it is in one moment. Throws `Problem` not-found. */
  async record(vehicle_id: string): Promise<VehicleRecord> {
    const { charge_log, findings, readings, notes } = this.#ledgers;
    const [workspace, vehicle, charges, found, read, noted, books, terms, logged, beliefs] = await this.#scope.batch([
      this.#settings.reading,
      this.#vehicles.reading(vehicle_id),
      charge_log.listing(vehicle_id),
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
      charge_log: charges!.map(charge_log.lineOf),
      findings: found!.map(findings.lineOf),
      readings: read!.map(readings.lineOf),
      notes: noted!.map(notes.lineOf),
      price_books: books!.map(ownBookOf),
      ...fleetSays(terms!, logged!, beliefs!)(vehicleOf(vehicle![0]!)),
    };
  }

  /** The same of several vehicles, without notes, in the order given; one that is not here is left out. */
  async records(vehicle_ids: readonly string[]): Promise<AssessedRecord[]> {
    const { charge_log, findings, readings } = this.#ledgers;
    const [workspace, found_vehicles, charges, found, read, books, terms, logged, beliefs] = await this.#scope.batch([
      this.#settings.reading,
      this.#vehicles.readingOfSeveral(vehicle_ids),
      charge_log.listingOfSeveral(vehicle_ids),
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
    const charges_of = Map.groupBy(charges!.map(charge_log.lineOf), ({ vehicle_id }) => vehicle_id);
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

  /**
   * What changes whenever a record does, and takes less than reading it: settings, the vehicle, the number of lines in
   * its ledgers, which only ever grow, and its quotes. With it the time zone, for "today". Throws `Problem` not-found.
   */
  async stamp(vehicle_id: string): Promise<RecordStamp> {
    const [stamp] = await this.#scope.all<RecordStamp>(
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
