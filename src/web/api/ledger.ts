import type { Line } from "../../core/question/record.ts";
import { notFound } from "../../store/errors.ts";
import type { Ledger } from "../../store/ledger.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Deps } from "../edge/deps.ts";
import { jsonBody } from "../edge/json-body.ts";
import { type EntryContext, readChargeEntry, readFinding, readNote, readReadings } from "../schemas/record-input.ts";
import { paging, param, tagged, today, uncachedJson } from "./asked.ts";
import { submitKeyOf, versionOf } from "./conditions.ts";
import type { Api, ApiContext } from "./operation.ts";
import type { SchemaName } from "./schemas.ts";

/** A ledger of a vehicle as the API has it. */
interface ApiLedger<Content extends object, Input extends object> {
  path: string;
  /** In ids of operations: `addFinding`. */
  name: string;
  /** In sentences: "a finding". */
  what: string;
  takes: SchemaName;
  gives: SchemaName;
  page: SchemaName;
  of(store: WorkspaceStore): Ledger<Content, Input>;
  read(body: unknown, context: EntryContext): Input;
}

/** Charge log, findings, readings and notes of a vehicle as JSON. */
export function addLedgers(api: Api, deps: Deps): void {
  addLedger(api, deps, {
    path: "charge-log",
    name: "ChargeEntry",
    what: "an entry of the charge log",
    takes: "ChargeEntryInput",
    gives: "ChargeLine",
    page: "ChargePage",
    of: ({ chargeLog }) => chargeLog,
    read: readChargeEntry,
  });
  addLedger(api, deps, {
    path: "findings",
    name: "Finding",
    what: "a finding",
    takes: "FindingInput",
    gives: "FindingLine",
    page: "FindingPage",
    of: ({ findings }) => findings,
    read: readFinding,
  });
  addLedger(api, deps, {
    path: "readings",
    name: "VehicleReadings",
    what: "a set of readings",
    takes: "ReadingsInput",
    gives: "ReadingsLine",
    page: "ReadingsPage",
    of: ({ readings }) => readings,
    read: readReadings,
  });
  addLedger(api, deps, {
    path: "notes",
    name: "Note",
    what: "a note",
    takes: "NoteInput",
    gives: "NoteLine",
    page: "NotePage",
    of: ({ notes }) => notes,
    read: readNote,
  });
}

/** The addresses of one ledger. Lines are never edited: each change writes a new line with the next version. */
function addLedger<Content extends object, Input extends object>(
  api: Api,
  deps: Deps,
  ledger: ApiLedger<Content, Input>,
): void {
  addReading(api, ledger);
  addChanging(api, deps, ledger);
}

function addReading<Content extends object, Input extends object>(
  api: Api,
  { path, name, what, gives, page, of }: ApiLedger<Content, Input>,
): void {
  const entries = `/api/vehicles/:id/${path}`;
  const looks = { method: "get", role: "viewer" } as const;
  api.add(
    { ...looks, path: entries, id: `list${name}`, summary: "What holds now, in order.", gives: page },
    async (c) => uncachedJson(c, { items: await of(c.var.store).list(param(c, "id")), next: null }),
  );
  api.add(
    {
      ...looks,
      path: `/api/vehicles/:id/history/${path}`,
      id: `history${name}`,
      summary: "Every line ever written, newest first.",
      query: ["limit", "after"],
      gives: page,
    },
    async (c) => uncachedJson(c, await of(c.var.store).history(param(c, "id"), paging(c))),
  );
  api.add(
    {
      ...looks,
      path: `${entries}/:entry`,
      id: `read${name}`,
      summary: `The newest line of ${what}, be it a removal.`,
      gives,
      tagged: true,
    },
    async (c) => tagged(c, (await versionsOf(c, of(c.var.store))).at(-1)!),
  );
  api.add(
    {
      ...looks,
      path: `${entries}/:entry/versions`,
      id: `versions${name}`,
      summary: `All versions of ${what}, oldest first.`,
      gives: page,
    },
    async (c) => uncachedJson(c, { items: await versionsOf(c, of(c.var.store)), next: null }),
  );
}

function addChanging<Content extends object, Input extends object>(
  api: Api,
  deps: Deps,
  { path, name, what, takes, gives, of, read }: ApiLedger<Content, Input>,
): void {
  const entries = `/api/vehicles/:id/${path}`;
  const entry = `${entries}/:entry`;
  const changed = { role: "editor", gives, versioned: true, tagged: true } as const;
  api.add(
    {
      method: "post",
      path: entries,
      id: `add${name}`,
      summary: `Add ${what}.`,
      role: "editor",
      takes,
      gives,
      status: 201,
      tagged: true,
    },
    async (c) => {
      const vehicle = await c.var.store.vehicles.get(param(c, "id"));
      const input = read(await jsonBody(c), { vehicle, today: await today(c, deps) });
      const line = await of(c.var.store).add(vehicle.id, input, submitKeyOf(c));
      c.header("Location", `/api/vehicles/${vehicle.id}/${path}/${line.id}`);
      return tagged(c, line, 201);
    },
  );
  api.add(
    {
      method: "put",
      path: entry,
      id: `correct${name}`,
      summary: `Correct ${what}. The line before stays in the history.`,
      takes,
      ...changed,
    },
    async (c) => {
      await versionsOf(c, of(c.var.store));
      const version = versionOf(c);
      const vehicle = await c.var.store.vehicles.get(param(c, "id"));
      const input = read(await jsonBody(c), { vehicle, today: await today(c, deps) });
      return tagged(c, await of(c.var.store).correct(param(c, "entry"), version, input, submitKeyOf(c)));
    },
  );
  api.add(
    {
      method: "delete",
      path: entry,
      id: `remove${name}`,
      summary: `Remove ${what} from what holds now.`,
      ...changed,
    },
    async (c) => {
      await versionsOf(c, of(c.var.store));
      return tagged(c, await of(c.var.store).remove(param(c, "entry"), versionOf(c), submitKeyOf(c)));
    },
  );
  api.add(
    {
      method: "post",
      path: `${entry}/undo`,
      id: `undo${name}`,
      summary: "Put back what held before that version. Undoing an undo brings the change back.",
      ...changed,
    },
    async (c) => {
      await versionsOf(c, of(c.var.store));
      return tagged(c, await of(c.var.store).undo(param(c, "entry"), versionOf(c), submitKeyOf(c)));
    },
  );
}

/** All lines of the entry in the address. Throws `Problem` not-found when it belongs to another vehicle. */
async function versionsOf<Content extends object, Input extends object>(
  c: ApiContext,
  ledger: Ledger<Content, Input>,
): Promise<Line<Content>[]> {
  const lines = await ledger.versions(param(c, "entry"));
  if (lines[0]!.vehicle_id !== param(c, "id")) throw notFound("entry of this vehicle");
  return lines;
}
