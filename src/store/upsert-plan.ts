import type { Issue } from "../core/problem.ts";
import { type ChargeEntry, NEW_VEHICLE, type Vehicle, type VehicleInput } from "../core/question/record.ts";
import { insertRows } from "./bulk.ts";
import { chargeLogTable } from "./charge-log.ts";
import { type EntryHere, readHere, type VehicleHere } from "./entries-here.ts";
import { contentHash } from "./hash.ts";
import { vehicleKey } from "./imported-vehicle.ts";
import { contentOf, lineRow } from "./ledger.ts";
import { revisionNow } from "./revision.ts";
import { guard, type Scope } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import type { EntryCheck, SentEvent, SentVehicle, UpsertAnswer, UpsertCall, UpsertResult } from "./upsert-shapes.ts";
import { inputUpdate, SELECT_VEHICLES, vehicleInputOf, vehicleOf, vehicleRow } from "./vehicles.ts";

/** What a call would write, and what is said of it. */
export async function planOf(
  scope: Scope,
  call: UpsertCall,
  check: EntryCheck,
): Promise<{ answer: UpsertAnswer; statements: Statement[] }> {
  const state = await readState(scope, call);
  const plan = new UpsertPlan(scope, call.source, state);
  const vehicles: UpsertResult[] = [];
  for (const sent of call.vehicles)
    vehicles.push("issues" in sent ? refused(sent.external_id, sent.issues) : await plan.vehicle(sent.item));
  await plan.readLogs(call.events.flatMap((sent) => ("issues" in sent ? [] : [sent.item])));
  const events: UpsertResult[] = [];
  for (const sent of call.events)
    events.push("issues" in sent ? refused(sent.external_id, sent.issues) : await plan.event(sent.item, check));
  return { answer: { vehicles, events }, statements: plan.statements() };
}

/** What a program has an id for: a vehicle, or an event as the entry of a charge log. */
interface Link {
  kind: "vehicle" | "event";
  external_id: string;
  subject_id: string;
  vehicle_id: string;
  sent_hash: string;
}

/** What is here of the things that a call speaks of. */
interface State {
  links: Link[];
  /** By id, those that the call may be about. */
  vehicles: Map<string, Vehicle>;
  /** Those of them that this program has an id for. */
  linked: Set<string>;
  /** Vehicles in use that this program has no id for, by name as files are matched. */
  unlinked: Map<string, string[]>;
}

/** A link of this source; then the source. */
const LINKED = `EXISTS (SELECT 1 FROM external_ids AS x WHERE x.workspace_id = :workspace AND x.kind = 'vehicle'
  AND x.subject_id = vehicles.id AND x.source = ?)`;

async function readState(scope: Scope, { source, vehicles, events }: UpsertCall): Promise<State> {
  const sent_vehicles = vehicles.flatMap((sent) => ("item" in sent ? [sent.item] : []));
  const sent_events = events.flatMap((sent) => ("item" in sent ? [sent.item] : []));
  const of_events = sent_events.map(({ vehicle }) => vehicle);
  const names = new Set(sent_vehicles.map(({ said }) => vehicleKey(said.label ?? "")));
  const links = await scope.all<Link>(
    `SELECT kind, external_id, subject_id, vehicle_id, sent_hash FROM external_ids
     WHERE workspace_id = :workspace AND source = ? AND (
       kind = 'vehicle' AND external_id IN (SELECT value FROM json_each(?))
       OR kind = 'event' AND external_id IN (SELECT value FROM json_each(?)))`,
    [
      source,
      JSON.stringify([
        ...sent_vehicles.map(({ external_id }) => external_id),
        ...of_events.flatMap((vehicle) => ("external_id" in vehicle ? [vehicle.external_id] : [])),
      ]),
      JSON.stringify(sent_events.map(({ external_id }) => external_id)),
    ],
  );
  const known = new Set(links.map(({ kind, external_id }) => `${kind} ${external_id}`));
  const by_name = sent_vehicles.some(({ id, external_id }) => id === null && !known.has(`vehicle ${external_id}`));
  const labels = by_name
    ? await scope.all<{ id: string; label: string }>(
        `SELECT id, label FROM vehicles WHERE workspace_id = :workspace AND archived_at IS NULL AND NOT ${LINKED}
         ORDER BY id`,
        [source],
      )
    : [];
  const unlinked = Map.groupBy(
    labels.filter(({ label }) => names.has(vehicleKey(label))),
    ({ label }) => vehicleKey(label),
  );
  const ids = [
    ...links.map(({ vehicle_id }) => vehicle_id),
    ...sent_vehicles.flatMap(({ id }) => id ?? []),
    ...of_events.flatMap((vehicle) => ("id" in vehicle ? [vehicle.id] : [])),
    ...[...unlinked.values()].flat().map(({ id }) => id),
  ];
  const rows = await scope.all(
    `${SELECT_VEHICLES.replace(" FROM ", `, ${LINKED} AS linked FROM `)}
     WHERE workspace_id = :workspace AND id IN (SELECT value FROM json_each(?))`,
    [source, JSON.stringify([...new Set(ids)])],
  );
  return {
    links,
    vehicles: new Map(rows.map(vehicleOf).map((one) => [one.id, one])),
    linked: new Set(rows.flatMap((row) => (row.linked === 1 ? [String(row.id)] : []))),
    unlinked: new Map([...unlinked].map(([name, same]) => [name, same.map(({ id }) => id)])),
  };
}

/** Says of one item after another what becomes of it, and collects what is to be written. */
class UpsertPlan {
  readonly #scope: Scope;
  readonly #source: string;
  readonly #state: State;
  readonly #at: string;
  readonly #links: Map<string, Link>;
  /** Vehicles and entries that this program has an id for. */
  readonly #linked: Set<string>;
  /** What items of this call were about. */
  readonly #done = new Set<string>();
  /** Vehicles as they are after this call, by id, and by the program's own id; null: the item was refused. */
  readonly #vehicles = new Map<string, VehicleInput & { id: string }>();
  readonly #sent = new Map<string, (VehicleInput & { id: string }) | null>();
  #here = new Map<string, VehicleHere>();
  #seen: { vehicles: number; lines: number } | null = null;
  readonly #entries = new Map<string, EntryHere>();
  readonly #rows = {
    vehicles: [] as Record<string, Param>[],
    charge_log: [] as Record<string, Param>[],
    links: [] as Record<string, Param>[],
  };
  readonly #updates: Statement[] = [];

  constructor(scope: Scope, source: string, state: State) {
    this.#scope = scope;
    this.#source = source;
    this.#state = state;
    this.#at = scope.now();
    this.#links = new Map(state.links.map((link) => [`${link.kind} ${link.external_id}`, link]));
    this.#linked = new Set(state.linked);
    for (const [id, vehicle] of state.vehicles) this.#vehicles.set(id, vehicle);
  }

  /** What becomes of a vehicle. */
  async vehicle(item: SentVehicle): Promise<UpsertResult> {
    const result = await this.#vehicle(item);
    if (!this.#sent.has(item.external_id))
      this.#sent.set(item.external_id, result.id === null ? null : this.#vehicles.get(result.id)!);
    return result;
  }

  async #vehicle({ external_id, id, said }: SentVehicle): Promise<UpsertResult> {
    if (this.#sent.has(external_id)) return refused(external_id, twice);
    const link = this.#links.get(`vehicle ${external_id}`);
    const meant = link === undefined ? this.#meant(id, said.label) : this.#linkedTo(link, id);
    if (Array.isArray(meant)) return refused(external_id, meant);
    const sent_hash = await contentHash(said);
    if (meant === null) return this.#newVehicle(external_id, said, sent_hash);
    if (this.#done.has(meant.id)) return refused(external_id, twice);
    this.#done.add(meant.id);
    if (link?.sent_hash === sent_hash) return { external_id, outcome: "same", id: meant.id, issues: [] };
    const before = vehicleInputOf(meant);
    const after = { ...before, ...said };
    this.#link("vehicle", external_id, meant.id, meant.id, sent_hash);
    this.#vehicles.set(meant.id, { ...after, id: meant.id });
    if ((await contentHash(before)) === (await contentHash(after)))
      return { external_id, outcome: "same", id: meant.id, issues: [] };
    this.#updates.push(...inputUpdate(meant, after, { at: this.#at, by: this.#scope.actor }));
    return { external_id, outcome: "changed", id: meant.id, issues: [] };
  }

  #linkedTo({ subject_id }: Link, id: string | null): Vehicle | Issue[] {
    if (id !== null && id !== subject_id)
      return [{ path: "id", message: `This external id belongs to another vehicle here: ${subject_id}.` }];
    return this.#state.vehicles.get(subject_id)!;
  }

  /** The vehicle here that the program had no id for until now; null: a new one. */
  #meant(id: string | null, label: string | undefined): Vehicle | null | Issue[] {
    if (id !== null) {
      const named = this.#state.vehicles.get(id);
      if (named === undefined) return [{ path: "id", message: "There is no vehicle with this id. Leave it out." }];
      if (!this.#linked.has(id)) return named;
      return [{ path: "id", message: "This vehicle has another external id of this source already." }];
    }
    const same_name = label === undefined ? [] : (this.#state.unlinked.get(vehicleKey(label)) ?? []);
    const open = same_name.filter((one) => !this.#done.has(one));
    if (open.length > 1)
      return [{ path: "label", message: `${open.length} vehicles here have this name. Say which one by its id.` }];
    return this.#state.vehicles.get(open[0] ?? "") ?? null;
  }

  #newVehicle(external_id: string, said: Partial<VehicleInput>, sent_hash: string): UpsertResult {
    const { label, refrigerant, nameplate_g } = said;
    if (label === undefined || refrigerant === undefined || nameplate_g === undefined) {
      const missing = Object.entries({ label, refrigerant, nameplate_g }).filter(([, value]) => value === undefined);
      const message = "A new vehicle needs it.";
      return refused(
        external_id,
        missing.map(([path]) => ({ path, message })),
      );
    }
    const input: VehicleInput = { ...NEW_VEHICLE, ...said, label, refrigerant, nameplate_g };
    const id = this.#scope.newId();
    this.#done.add(id);
    this.#vehicles.set(id, { ...input, id });
    const made = { ...revisionNow(this.#scope), example: false, archived_at: null };
    this.#rows.vehicles.push(vehicleRow({ ...input, id, ...made }));
    this.#link("vehicle", external_id, id, id, sent_hash);
    return { external_id, outcome: "created", id, issues: [] };
  }

  /** Reads the logs of the vehicles that the events are about. */
  async readLogs(events: readonly SentEvent[]): Promise<void> {
    const ids = new Set(
      events
        .flatMap((event) => [
          this.#vehicleOf(event)?.id ?? [],
          this.#links.get(`event ${event.external_id}`)?.vehicle_id ?? [],
        ])
        .flat(),
    );
    const { here, seen } = await readHere(this.#scope, [...ids]);
    const of_source = await this.#scope.all<{ subject_id: string }>(
      `SELECT subject_id FROM external_ids WHERE workspace_id = :workspace AND source = ? AND kind = 'event'
         AND vehicle_id IN (SELECT value FROM json_each(?))`,
      [this.#source, JSON.stringify([...ids])],
    );
    for (const { subject_id } of of_source) this.#linked.add(subject_id);
    this.#here = here;
    this.#seen = seen;
    for (const { entries } of here.values()) for (const entry of entries) this.#entries.set(entry.id, entry);
  }

  #vehicleOf({ vehicle }: SentEvent): (VehicleInput & { id: string }) | null | undefined {
    if ("id" in vehicle) return this.#vehicles.get(vehicle.id);
    const sent = this.#sent.get(vehicle.external_id);
    if (sent !== undefined) return sent;
    const link = this.#links.get(`vehicle ${vehicle.external_id}`);
    return link === undefined ? undefined : this.#vehicles.get(link.subject_id);
  }

  /** What becomes of an event. */
  async event(item: SentEvent, check: EntryCheck): Promise<UpsertResult> {
    const { external_id, entry } = item;
    const path = "id" in item.vehicle ? "vehicle_id" : "vehicle";
    const vehicle = this.#vehicleOf(item);
    if (vehicle === null) return refused(external_id, [{ path, message: "Its vehicle was refused, so it was, too." }]);
    if (vehicle === undefined)
      return refused(external_id, [{ path, message: "There is no such vehicle. Send it first, or in the same call." }]);
    if (this.#done.has(`event ${external_id}`)) return refused(external_id, twice);
    this.#done.add(`event ${external_id}`);
    const issues = check(entry, vehicle);
    if (issues.length > 0) return refused(external_id, issues);
    const content = contentOf(chargeLogTable, entry);
    const sent_hash = await contentHash(content);
    const link = this.#links.get(`event ${external_id}`);
    if (link !== undefined && link.vehicle_id !== vehicle.id)
      return refused(external_id, [
        { path, message: "This event belongs to another vehicle here. Send it under another external id." },
      ]);
    if (link?.sent_hash === sent_hash) return { external_id, outcome: "same", id: link.subject_id, issues: [] };
    const here = this.#here.get(vehicle.id) ?? { vehicle: null, entries: [], last_number: 0 };
    this.#here.set(vehicle.id, here);
    const meant = link === undefined ? this.#sameEntry(here, content) : this.#entries.get(link.subject_id);
    return meant === undefined
      ? this.#newEntry(external_id, vehicle.id, content, sent_hash)
      : this.#knownEntry(external_id, meant, content, sent_hash);
  }

  /** An entry that says or ever said the same, and that the program has no id for. */
  #sameEntry({ entries }: VehicleHere, content: ChargeEntry): EntryHere | undefined {
    const text = JSON.stringify(content);
    return entries.find(({ id, matched, contents }) => !matched && contents.has(text) && !this.#linked.has(id));
  }

  #newEntry(external_id: string, vehicle_id: string, content: ChargeEntry, sent_hash: string): UpsertResult {
    const id = this.#scope.newId();
    const number = ++this.#here.get(vehicle_id)!.last_number;
    this.#line({ ...content, id, version: 1, change: "added", vehicle_id, number });
    this.#link("event", external_id, id, vehicle_id, sent_hash);
    return { external_id, outcome: "created", id, issues: [] };
  }

  #knownEntry(external_id: string, meant: EntryHere, content: ChargeEntry, sent_hash: string): UpsertResult {
    const now = meant.lines.at(-1)!;
    const { id, number } = meant;
    const { vehicle_id } = now;
    const is_new = !this.#links.has(`event ${external_id}`);
    const same = is_new || JSON.stringify(contentOf(chargeLogTable, now)) === JSON.stringify(content);
    if (now.change === "removed" && !is_new)
      return refused(external_id, [
        { path: "", message: "This event was removed here. Restore it there, or send it under another external id." },
      ]);
    meant.matched = true;
    this.#link("event", external_id, id, vehicle_id, sent_hash);
    if (same) return { external_id, outcome: "same", id, issues: [] };
    this.#line({ ...content, id, version: now.version + 1, change: "corrected", vehicle_id, number });
    return { external_id, outcome: "changed", id, issues: [] };
  }

  #line(line: ChargeEntry & Pick<EntryHere["lines"][number], "id" | "version" | "change" | "vehicle_id" | "number">) {
    this.#rows.charge_log.push(
      lineRow(chargeLogTable, { ...line, recorded_at: this.#at, recorded_by: this.#scope.actor }),
    );
  }

  #link(kind: Link["kind"], external_id: string, subject_id: string, vehicle_id: string, sent_hash: string): void {
    this.#linked.add(subject_id);
    this.#rows.links.push({ source: this.#source, kind, external_id, subject_id, vehicle_id, sent_hash });
  }

  /** One change: all of it, or nothing when somebody else wrote since it was planned. */
  statements(): Statement[] {
    const { vehicles, charge_log, links } = this.#rows;
    if (links.length === 0) return [];
    const seen = this.#seen!;
    return [
      guard(
        `(SELECT count(*) FROM vehicles WHERE workspace_id = :workspace) IS ?
         AND (SELECT count(*) FROM charge_log WHERE workspace_id = :workspace) IS ?`,
        [seen.vehicles, seen.lines],
      ),
      ...this.#updates,
      ...insertRows("vehicles", vehicles),
      ...insertRows("charge_log", charge_log),
      ...insertRows(
        "external_ids",
        links,
        "(workspace_id, source, kind, external_id) DO UPDATE SET sent_hash = excluded.sent_hash",
      ),
    ];
  }
}

const twice: readonly Issue[] = [
  { path: "external_id", message: "Another item of this call is about the same. Send each once." },
];

function refused(external_id: string, issues: readonly Issue[]): UpsertResult {
  return { external_id, outcome: "refused", id: null, issues: [...issues] };
}
