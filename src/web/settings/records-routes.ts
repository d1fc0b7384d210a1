import { type Context, Hono } from "hono";
import { version } from "../../../package.json";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { type ConditionProps, ErasedPage, ImportPage, RecordsPage } from "../../../views/settings/records-page.tsx";
import type { Issue } from "../../core/problem.ts";
import { localTime } from "../../core/quantities/local-time.ts";
import { mayAct } from "../../store/roles.ts";
import { sortKey } from "../../store/text.ts";
import type { ImportOptions, ImportReport, TransferCounts } from "../../store/transfer.ts";
import { LOCAL_WORKSPACE } from "../../store/workspaces.ts";
import { eraseRecords, type GrantedEnv, requireRole } from "../edge/access.ts";
import type { Deps } from "../edge/deps.ts";
import { UPLOAD_BYTES, uploadLimit } from "../edge/limits.ts";
import { answerPage } from "../edge/page.ts";
import type { GivenOutAs, TakenIn } from "../edge/take-in.ts";
import { formOf } from "../forms/posted-form.ts";
import { type Pieces, uploadOf } from "../forms/upload.ts";
import { todayIn } from "../workspace.ts";
import { givenOut } from "./give-out.ts";
import { unpacked } from "./packed.ts";
import { takeInto } from "./take-in.ts";

/** `/settings/records`: export and import of the whole workspace. */
export function recordsRoutes(deps: Deps) {
  return (
    new Hono<GrantedEnv>()
      .get("/settings/records", requireRole("viewer"), (c) => answer(c, deps, 200, []))
      .get("/settings/export.json", requireRole("viewer"), (c) =>
        answerFile(c, deps, "records", { name: "seepwise", ending: "json", type: "application/json" }),
      )
      .get("/settings/charge-log.csv", requireRole("viewer"), (c) =>
        answerFile(c, deps, "charge-log", {
          name: "charge-log",
          ending: "csv",
          type: "text/csv; charset=utf-8; header=present",
        }),
      )
      // A preview of the import; the file comes back, packed, with the confirmation.
      .post("/settings/import", requireRole("editor"), uploadLimit(deps), async (c) => {
        const file = (await uploadOf(c)).files.get("file");
        if (file === undefined) return answer(c, deps, 422, [{ field: "file", message: "Choose the exported file" }]);
        const taken = await takeIn(c, deps, file.pieces, { dry_run: true });
        if (!taken.ok) return answer(c, deps, 422, fileErrors(taken.issues));
        return answerReport(c, deps, taken, taken.packed ?? "");
      })
      .post("/settings/import/confirm", requireRole("editor"), uploadLimit(deps), async (c) => {
        const form = await formOf(c);
        const unpack = deps.unpack ?? unpacked;
        const file = await unpack(form.get("packed") ?? "", UPLOAD_BYTES);
        await deps.room(c)?.take(c.var.access.workspaceId, file.length);
        const taken = await takeIn(c, deps, [file], { take_vehicles: form.has("take_vehicles") });
        if (!taken.ok) return answer(c, deps, 422, fileErrors(taken.issues));
        const rows = rowsOf(taken.report);
        const lines = rows.slice(1).reduce((sum, { added }) => sum + added, 0);
        return c.redirect(`/settings/records?vehicles=${taken.report.vehicles.added}&lines=${lines}`, 303);
      })
      .post("/settings/erase", requireRole("owner"), async (c) => {
        const typed = (await formOf(c)).get("erase_name") ?? "";
        const { name } = await c.var.store.settings.get();
        if (sortKey(typed.trim()) !== sortKey(name)) {
          const message = `To erase everything, type the name of these records: ${name}`;
          return answer(c, deps, 422, [{ field: "erase_name", message }], typed);
        }
        await eraseRecords(c, deps);
        return answerPage(c, ErasedPage({ asset: deps.asset }));
      })
  );
}

/** A file of these records, named after the day; written beside the requests where that is possible. */
async function answerFile(
  c: Context<GrantedEnv>,
  deps: Deps,
  as: GivenOutAs,
  { name, ending, type }: { name: string; ending: string; type: string },
) {
  const { store, access } = c.var;
  const [workspace, file] = await Promise.all([
    store.settings.get(),
    deps.giveOut?.(as, access) ?? givenOut(store, as),
  ]);
  const day = todayIn(workspace, deps.now());
  c.header("Content-Disposition", `attachment; filename="${name}-${day}.${ending}"`);
  c.header("Cache-Control", "no-store");
  return c.body(inPieces(file), 200, { "Content-Type": type });
}

const PIECE_BYTES = 64 * 1024;

/** Sent, and compressed, a piece at a time: a whole file would be copied first, while others wait. */
function inPieces(bytes: Uint8Array<ArrayBuffer>): ReadableStream<Uint8Array<ArrayBuffer>> {
  let from = 0;
  return new ReadableStream({
    pull(controller) {
      controller.enqueue(bytes.subarray(from, from + PIECE_BYTES));
      from += PIECE_BYTES;
      if (from >= bytes.length) controller.close();
    },
  });
}

/** Beside the requests where that is possible. */
function takeIn(c: Context<GrantedEnv>, deps: Deps, file: Pieces, options: ImportOptions): Promise<TakenIn> {
  return deps.takeIn?.(file, c.var.access, options) ?? takeInto(c.var.store, file, options);
}

/** Errors shown of a refused file. */
const SHOWN_ISSUES = 20;

function fileErrors(issues: readonly Issue[]): FieldError[] {
  const errors = issues
    .slice(0, SHOWN_ISSUES)
    .map(({ path, message }) => ({ field: "file", message: path === "" ? message : `${path}: ${message}` }));
  const more = issues.length - errors.length;
  return more === 0 ? errors : [...errors, { field: "file", message: `And ${more} more like these` }];
}

const ROW_NAMES = {
  vehicles: "Vehicles",
  charge_log: "Lines of charge logs",
  findings: "Findings",
  readings: "Readings",
  notes: "Notes",
  price_books: "Price books",
  quotes: "Quotes",
  fleet_names: "Names in fleet files",
  fleet_locks: "Settled repairs",
  customers: "Customers",
  vehicle_particulars: "Plates and VINs",
  invoices: "Invoices and credit notes",
  payments: "Payments",
  cylinders: "Cylinders",
  cylinder_moves: "Moves of cylinders",
  refrigerant_work: "Technicians and cylinders of entries",
  follow_ups_closed: "Follow-ups that are done with",
  fleet_plans: "Plans of a year",
  fleet_orders: "Work orders of plans",
  fleet_closed_years: "Closed years of the audit",
  fleet_closed_rows: "Vehicles in closed years",
  fleet_terms: "What holds for the fleet, groups and depots",
  fleet_logged: "Vehicles with every charge logged",
  external_ids: "Names that other programs use",
  imports: "Imports of files",
  import_rows: "What those imports wrote",
  entry_orders: "Order numbers of entries",
  import_mappings: "Columns as they were read",
} as const satisfies Record<CountedList, string>;

type CountedList = {
  [K in keyof ImportReport]: ImportReport[K] extends TransferCounts ? K : never;
}[keyof ImportReport];

function rowsOf(report: ImportReport) {
  return Object.entries(ROW_NAMES).map(([key, name]) => ({ name, ...report[key as keyof typeof ROW_NAMES] }));
}

async function answer(
  c: Context<GrantedEnv>,
  deps: Deps,
  status: 200 | 422,
  errors: readonly FieldError[],
  typed = "",
) {
  const { role } = c.var.access;
  const [vehicles, lines] = [c.req.query("vehicles"), c.req.query("lines")].map(Number);
  const page = RecordsPage({
    errors,
    imported:
      Number.isSafeInteger(vehicles) && Number.isSafeInteger(lines) ? { vehicles: vehicles!, lines: lines! } : null,
    may_change: mayAct(role, "editor"),
    owner: mayAct(role, "owner"),
    erasable: mayAct(role, "owner") ? { name: (await c.var.store.settings.get()).name, typed } : null,
    condition: await conditionFor(c, deps),
    max_mib: UPLOAD_BYTES / 1024 / 1024,
    asset: deps.asset,
  });
  return answerPage(c, page, status);
}

/** How the records are, in words, for their owner; null for whom it is not. */
async function conditionFor(c: Context<GrantedEnv>, deps: Deps): Promise<ConditionProps | null> {
  const { role, workspaceId } = c.var.access;
  if (!mayAct(role, "owner")) return null;
  const { of_all, bytes, last_backup, last_error, since } = await deps.condition(c);
  if (of_all && workspaceId !== LOCAL_WORKSPACE) return null;
  const { time_zone } = await c.var.store.settings.get();
  return {
    version,
    bytes,
    last_backup: last_backup === null || last_backup === "platform" ? last_backup : localTime(last_backup, time_zone),
    last_error: last_error && { at: localTime(last_error.at, time_zone), id: last_error.id },
    since: localTime(since, time_zone),
  };
}

async function answerReport(
  c: Context<GrantedEnv>,
  deps: Deps,
  { exported_at, report }: TakenIn & { ok: true },
  packed_file: string,
) {
  const { time_zone } = await c.var.store.settings.get();
  const page = ImportPage({
    exported: localTime(exported_at, time_zone),
    settings: report.settings,
    letterhead: report.letterhead,
    renumbered_quotes: report.renumbered_quotes,
    rows: rowsOf(report),
    differing: [
      ...report.differing_vehicles.map(({ id, label }) => ({ href: `/vehicles/${id}`, name: label })),
      ...report.differing_books.map(({ id, name }) => ({ href: `/prices/${id}`, name })),
    ],
    packed: packed_file,
    asset: deps.asset,
  });
  c.header("Cache-Control", "no-store");
  return answerPage(c, page);
}
