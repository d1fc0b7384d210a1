import { DurableObject } from "cloudflare:workers";
import { millisecondsInDay } from "date-fns/constants";
import late_tables from "../dist/late-tables.json";
import migrations from "../dist/migrations.json";
import { emptyDaysOf, workspaceBytesOf } from "./config.ts";
import { placeOf } from "./object-place.ts";
import { endEmptyWorkspace, mayBeEmpty } from "./store/empty-workspaces.ts";
import { indexedWhenGrown, isBegun, migrateObject } from "./store/object-migrations.ts";
import { atomically, NO_RECORDS, ObjectSql, type ObjectStorage, type RemoteRecords } from "./store/object-sql.ts";
import { LateTables } from "./store/object-tables.ts";
import { READS, type Row, type Sql, type Statement } from "./store/sql.ts";
import { nextMessageDue } from "./store/webhook-outbox.ts";
import { workspaceBytes } from "./store/workspace-bytes.ts";
import { KeptPages } from "./web/edge/page-cache.ts";
import { Room } from "./web/edge/room.ts";
import { unfinishedWork, workOnce } from "./web/fleet/background.ts";
import { sendDueMessages } from "./web/webhook/delivery.ts";
import { answer, type Bindings, deps, type Place } from "./worker-app.ts";

/** Slices of a fleet's work for each time that an object wakes for it; other requests have their turn after each. */
const SLICES_AT_ONCE = 8;

/** An object that looks whether it was empty for long does so when that is surely over. */
const WELL_AFTER_MS = 1000;

/** Objects that are in use lie side by side in 128 MB of memory. */
const BYTES_OF_PAGES = 2 * 1024 * 1024;

/** One workspace: its records, and the application beside them. */
export class WorkspaceObject extends DurableObject<Bindings> implements RemoteRecords {
  /** What this instance has seen to already. */
  readonly #seen_to = new Set<"migrations" | "indexes">();
  #late: LateTables | null = null;

  /** Pages of these records, and how often those were changed: both end when the object leaves the memory. */
  readonly #pages = new KeptPages(BYTES_OF_PAGES);
  readonly #changes = { count: 0 };

  readonly #remembered: Place["remembered"] = { last_error: null, since: new Date().toISOString() };

  readonly #empty_days = emptyDaysOf(this.env.EMPTY_DAYS);

  readonly #room = new Room({
    limit_bytes: workspaceBytesOf(this.env.WORKSPACE_MB),
    most: () => this.ctx.storage.sql.databaseSize,
    measure: (workspace_id) => workspaceBytes(this.#records(), workspace_id),
    now: () => new Date(),
  });

  async fetch(request: Request): Promise<Response> {
    const { sql: database } = this.ctx.storage;
    const place = {
      sql: this.#records(),
      bytes: () => database.databaseSize,
      room: this.#room,
      pages: this.#pages,
      remembered: this.#remembered,
    };
    const answered = await answer(request, this.env, place);
    if (request.method !== "GET" && request.method !== "HEAD") await this.#afterChange();
    return answered;
  }

  /** For whoever begins a workspace from outside: nobody but this program's own Worker reaches it. */
  async run(statements: readonly Statement[]): Promise<{ rows: Row[][] } | { refused: string }> {
    try {
      this.#migrate();
      this.#changes.count += 1;
      const rows = atomically(this.#storage(), statements);
      if (!statements.every(({ sql }) => READS.test(sql))) await this.#lookForEmptiness(this.#records());
      return { rows };
    } catch (error) {
      return { refused: error instanceof Error ? error.message : String(error) };
    }
  }

  async size(): Promise<number> {
    return this.ctx.storage.sql.databaseSize;
  }

  /** When it wakes next by itself, in milliseconds; null: only when it is asked. */
  wakes(): Promise<number | null> {
    return this.ctx.storage.getAlarm();
  }

  /**
   * Ends when nothing was kept for long. Else goes on with a fleet's run, and sends what is due to a webhook. When it
   * fails, the platform calls it again, and both go on where they were.
   */
  async alarm(): Promise<void> {
    const sql = this.#records();
    if ((await mayBeEmpty(sql)) && (await endEmptyWorkspace(sql, new Date(), this.#empty_days)))
      return this.#takeNoRoom();
    let more = true;
    for (let slice = 0; more && slice < SLICES_AT_ONCE; slice++) {
      more = await workOnce(deps, sql);
      await new Promise((resume) => setTimeout(resume, 0));
    }
    await sendDueMessages(deps, sql);
    await this.#wakeFor(sql);
  }

  /** Wakes at once for a fleet's run that is left, else when the next message is due. */
  async #wakeFor(sql: Sql): Promise<void> {
    if ((await unfinishedWork(sql)).length > 0) return this.ctx.storage.setAlarm(Date.now());
    const due = await nextMessageDue(sql);
    if (due !== null) return this.ctx.storage.setAlarm(due);
    await this.#lookForEmptiness(sql);
  }

  /** Wakes after a while to see whether anything is kept here by then. */
  async #lookForEmptiness(sql: Sql): Promise<void> {
    if ((await this.ctx.storage.getAlarm()) !== null || !(await mayBeEmpty(sql))) return;
    await this.ctx.storage.setAlarm(Date.now() + this.#empty_days * millisecondsInDay + WELL_AFTER_MS);
  }

  #records(): Sql {
    if (!this.#seen_to.has("migrations") && !isBegun(this.ctx.storage)) return NO_RECORDS;
    this.#migrate();
    return new ObjectSql(this.#storage(), placeOf(this.ctx.id.toString()), this.#changes);
  }

  #storage(): ObjectStorage {
    const { storage } = this.ctx;
    this.#late ??= new LateTables(storage.sql, late_tables);
    return {
      sql: storage.sql,
      transactionSync: (work) => storage.transactionSync(work),
      late: this.#late,
    };
  }

  #migrate(): void {
    const { storage } = this.ctx;
    if (!this.#seen_to.has("migrations")) migrateObject(storage, migrations, late_tables);
    this.#seen_to.add("migrations");
    if (!this.#seen_to.has("indexes") && indexedWhenGrown(storage, migrations)) this.#seen_to.add("indexes");
  }

  /** Wakes for work that is left. When everything was erased, the object takes no room any more. */
  async #afterChange(): Promise<void> {
    const sql = this.#records();
    await this.#wakeFor(sql);
    if (!this.#seen_to.has("migrations") || (await sql.all("SELECT 1 FROM workspaces LIMIT 1")).length > 0) return;
    await this.#takeNoRoom();
  }

  async #takeNoRoom(): Promise<void> {
    await this.ctx.storage.deleteAlarm();
    await this.ctx.storage.deleteAll();
    this.#seen_to.clear();
    this.#late = null;
  }
}
