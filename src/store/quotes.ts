import { Problem } from "../core/problem.ts";
import type { ChargeEntryInput, FindingInput } from "../core/question/record.ts";
import { type Agreement, agreementOf, NOTHING_AGREED } from "../core/quotes/agreement.ts";
import type {
  AnsweredHow,
  QuoteContent,
  QuoteDecision,
  QuoteSnapshot,
  QuoteWork,
} from "../core/quotes/quote-document.ts";
import { Conflict, ConstraintFailed, notFound } from "./errors.ts";
import { sha256Hex } from "./hash.ts";
import { QuoteLists } from "./quote-lists.ts";
import { type Quote, quoteOf, SELECT_QUOTES } from "./quote-row.ts";
import type { RefrigerantLog, WorkInput } from "./refrigerant-log.ts";
import { guard, type Scope, type SubmitKey } from "./scope.ts";
import type { Param, Statement } from "./sql.ts";
import { keptText } from "./text.ts";
import type { WorkLedgers } from "./vehicle-ledgers.ts";
import { versionedChange } from "./versioned-change.ts";
import { tellAnswer } from "./webhook-outbox.ts";

/** What is logged in one step after a yes. */
export interface DoneWork {
  work: QuoteWork;
  charge_log: readonly ChargeEntryInput[];
  findings: readonly FindingInput[];
  /** Who did it and with which cylinders, where refrigerant moved. */
  refrigerant?: WorkInput | null;
}

/** One change of a quote: the state it must be in, what becomes of it, and what is stored along with that. */
interface Change {
  status: Quote["status"];
  set: string;
  params: Param[];
  /** What was sent in, to tell a repeat from another change. */
  sent: unknown[];
  before?: readonly Statement[];
  after?: readonly Statement[];
}

/** Whether a quote is billed by an invoice that is not given back whole. */
const BILLED = `EXISTS (SELECT 1 FROM invoices AS i WHERE i.workspace_id = :workspace AND i.quote_id = ?
  AND i.kind = 'invoice' AND i.total_minor > (SELECT coalesce(sum(n.total_minor), 0) FROM invoices AS n
    WHERE n.workspace_id = i.workspace_id AND n.credits = i.id))`;

/**
 * The quotes of a workspace: written as a draft, sent once with a snapshot that never changes, decided once by whoever
 * has the link. Whoever changes one names the version that they saw; if there is a newer one, `Conflict` carries it and
 * nothing is stored. All methods throw `Problem` not-found for an id that is not in this workspace.
 */
export class Quotes extends QuoteLists {
  readonly #scope: Scope;
  readonly #ledgers: WorkLedgers;
  readonly #refrigerant_log: RefrigerantLog;

  constructor(scope: Scope, ledgers: WorkLedgers, refrigerant_log: RefrigerantLog) {
    super(scope);
    this.#scope = scope;
    this.#ledgers = ledgers;
    this.#refrigerant_log = refrigerant_log;
  }

  async get(id: string): Promise<Quote> {
    const [row] = await this.#scope.all(`${SELECT_QUOTES} WHERE workspace_id = :workspace AND id = ?`, [id]);
    if (row === undefined) throw notFound("quote");
    return quoteOf(row);
  }

  /** Begins a draft. `replaces` names an earlier quote of the vehicle. */
  async create(
    vehicle_id: string,
    content: QuoteContent,
    replaces: string | null = null,
    submit_key: SubmitKey = null,
  ): Promise<Quote> {
    const id = this.#scope.newId();
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const insert = {
      sql: `INSERT INTO quotes (workspace_id, id, vehicle_id, number, status, content, replaces, version,
          created_at, created_by, updated_at, updated_by)
        SELECT :workspace, ?, ?, coalesce(max(number), 0) + 1, 'draft', ?, ?, 1, ?, ?, ?, ?
        FROM quotes WHERE workspace_id = :workspace`,
      params: [id, vehicle_id, JSON.stringify(content), replaces, at, by, at, by],
    };
    const of_vehicle = guard(
      "? IS NULL OR EXISTS (SELECT 1 FROM quotes WHERE workspace_id = :workspace AND id = ? AND vehicle_id = ?)",
      [replaces, replaces, vehicle_id],
    );
    try {
      const { current } = await versionedChange(this.#scope, {
        key: submit_key,
        content: [vehicle_id, content, replaces],
        subject_id: id,
        subject_version: 1,
        statements: [of_vehicle, insert],
        read: this.#read,
      });
      return current;
    } catch (error) {
      if (error instanceof ConstraintFailed && error.kind === "foreign-key") throw notFound("vehicle");
      throw error;
    }
  }

  /** Puts other content into a draft. */
  async update(id: string, version: number, content: QuoteContent, submit_key: SubmitKey = null): Promise<Quote> {
    const set = { set: "content = ?", params: [JSON.stringify(content)] };
    return (await this.#change(id, version, { ...set, status: "draft", sent: ["update", content] }, submit_key)).quote;
  }

  /** Throws a draft away. */
  async discard(id: string, version: number): Promise<void> {
    this.#scope.require("editor");
    const [deleted] = await this.#scope.batch([
      {
        sql: `DELETE FROM quotes WHERE workspace_id = :workspace AND id = ? AND version = ? AND status = 'draft' RETURNING id`,
        params: [id, version],
      },
    ]);
    if (deleted!.length === 0) throw new Conflict(await this.get(id));
  }

  /**
   * Sends a draft with `content` in it: `snapshot` stands from now on. An earlier quote that it replaces and that is
   * still open is withdrawn in the same change. Gives the token of the customer's link, the only time that anyone sees
   * it; null when this submit had been made before.
   */
  async send(
    id: string,
    version: number,
    { content, snapshot }: { content: QuoteContent; snapshot: QuoteSnapshot },
    submit_key: SubmitKey = null,
  ): Promise<{ quote: Quote; token: string | null }> {
    const token = this.#scope.newKey();
    const at = this.#scope.now();
    const by = this.#scope.actor;
    const withdraw_replaced = {
      sql: `UPDATE quotes SET status = 'withdrawn', withdrawn_at = ?, withdrawn_by = ?, version = version + 1,
          updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND status = 'sent'
          AND id = (SELECT replaces FROM quotes WHERE workspace_id = :workspace AND id = ?)`,
      params: [at, by, at, by, id],
    };
    const { quote, repeated } = await this.#change(
      id,
      version,
      {
        status: "draft",
        set: "status = 'sent', content = ?, snapshot = ?, valid_until = ?, token_hash = ?, sent_at = ?, sent_by = ?",
        params: [
          JSON.stringify(content),
          JSON.stringify(snapshot),
          snapshot.valid_until,
          await sha256Hex(token),
          at,
          by,
        ],
        sent: ["send", content],
        after: [withdraw_replaced],
      },
      submit_key,
    );
    return { quote, token: repeated ? null : token };
  }

  /** Makes a new link to a quote that was sent; the one before is dead from now on. Gives its token. */
  async newLink(id: string): Promise<string> {
    this.#scope.require("editor");
    const token = this.#scope.newKey();
    const [made] = await this.#scope.batch([
      {
        sql: `UPDATE quotes SET token_hash = ?, updated_at = ?, updated_by = ?
          WHERE workspace_id = :workspace AND id = ? AND status <> 'draft' RETURNING id`,
        params: [await sha256Hex(token), this.#scope.now(), this.#scope.actor, id],
      },
    ]);
    if (made!.length === 0) {
      await this.get(id);
      throw new Problem("invalid", "This quote is still a draft. Send it, and it has a link.");
    }
    return token;
  }

  /** Takes back a quote that nobody has answered. */
  async withdraw(id: string, version: number, submit_key: SubmitKey = null): Promise<Quote> {
    const set = "status = 'withdrawn', withdrawn_at = ?, withdrawn_by = ?";
    const params = [this.#scope.now(), this.#scope.actor];
    return (await this.#change(id, version, { status: "sent", set, params, sent: ["withdraw"] }, submit_key)).quote;
  }

  /**
   * Writes down an answer that came by phone, on paper or in person, with who took it: the one who is signed in; and
   * what was agreed on with it.
   */
  async recordAnswer(
    id: string,
    version: number,
    {
      option,
      name,
      keep_years,
      how,
      agreement = null,
    }: QuoteDecision & { how: AnsweredHow; agreement?: Agreement | null },
    submit_key: SubmitKey = null,
  ): Promise<Quote> {
    const written = agreement === null ? { set: "agreed", params: [] } : this.#agreed(agreement);
    const set = `status = ?, decided_at = ?, decided_name = ?, decided_option = ?, decided_keep_years = ?, decided_how = ?,
      decided_by = ?, agreed = ${written.set}`;
    const status = option === null ? "declined" : "accepted";
    const decided = [status, this.#scope.now(), keptText(name), option, keep_years, how, this.#scope.actor];
    const params = [...decided, ...written.params];
    const sent = ["answer", option, name, how, agreement];
    const after = [this.#told(id)];
    return (await this.#change(id, version, { status: "sent", set, params, sent, after }, submit_key)).quote;
  }

  /**
   * Writes down what is agreed on besides the option that was accepted; what was agreed before stays behind it. A
   * deposit stays as it is once an invoice has it.
   */
  async agree(id: string, version: number, agreement: Agreement, submit_key: SubmitKey = null): Promise<Quote> {
    const { set, params } = this.#agreed(agreement);
    const { deposit } = agreementOf((await this.get(id)).agreed);
    const kept = JSON.stringify(deposit) === JSON.stringify(agreement.deposit);
    const before = kept ? [] : [guard(`NOT ${BILLED}`, [id])];
    const change = { status: "accepted" as const, set: `agreed = ${set}`, params, sent: ["agree", agreement], before };
    return (await this.#change(id, version, change, submit_key)).quote;
  }

  #agreed(agreement: Agreement): { set: string; params: Param[] } {
    const written = { ...agreement, at: this.#scope.now(), by: this.#scope.actor };
    return {
      set: "json_insert(coalesce(agreed, '[]'), '$[#]', json(?))",
      params: [JSON.stringify(written)],
    };
  }

  /**
   * Takes an answer back while no work is logged and nothing is billed: the quote waits again, and the
   * answer is kept among the earlier ones.
   */
  async takeBackAnswer(id: string, version: number, submit_key: SubmitKey = null): Promise<Quote> {
    const { status, agreed } = await this.get(id);
    const { deposit } = agreementOf(agreed);
    if (deposit !== null)
      throw new Problem(
        "invalid",
        "A deposit was paid on this answer. Take the deposit out under What is agreed first; it can be entered again.",
      );
    if (status !== "accepted" && status !== "declined")
      throw new Problem("invalid", "This quote has no answer that could be taken back.");
    const nothing = this.#agreed(NOTHING_AGREED);
    const set = `earlier_answers = json_insert(coalesce(earlier_answers, '[]'), '$[#]', json_object('status', status,
        'at', decided_at, 'name', decided_name, 'option', decided_option, 'how', decided_how, 'by', decided_by,
        'taken_back_at', ?, 'taken_back_by', ?)),
      status = 'sent', decided_at = NULL, decided_name = NULL, decided_option = NULL, decided_keep_years = NULL,
      decided_how = NULL, decided_by = NULL, agreed = CASE WHEN agreed IS NULL THEN NULL ELSE ${nothing.set} END`;
    const params = [this.#scope.now(), this.#scope.actor, ...nothing.params];
    const before = [
      guard("EXISTS (SELECT 1 FROM quotes WHERE workspace_id = :workspace AND id = ? AND work IS NULL)", [id]),
      guard(`NOT ${BILLED}`, [id]),
    ];
    const change = { status, set, params, sent: ["take-back"], before, after: [this.#told(id)] };
    return (await this.#change(id, version, change, submit_key)).quote;
  }

  /** Logs the work of an accepted quote: entries, findings and the mark on the quote, all or nothing, once. */
  async logWork(id: string, version: number, done: DoneWork, submit_key: SubmitKey = null): Promise<Quote> {
    const { vehicle_id } = await this.get(id);
    const at = this.#scope.now();
    const { charge_log, findings } = this.#ledgers;
    const entries = done.charge_log.map((entry) => charge_log.addition(vehicle_id, entry, at));
    const [entry] = entries;
    const named =
      done.refrigerant == null || entry === undefined
        ? []
        : [this.#refrigerant_log.addition(entry.id, vehicle_id, done.refrigerant, at)];
    const records = [...entries, ...done.findings.map((finding) => findings.addition(vehicle_id, finding, at))];
    const { quote } = await this.#change(
      id,
      version,
      {
        status: "accepted",
        set: "work = ?, work_at = ?, work_by = ?",
        params: [JSON.stringify(done.work), at, this.#scope.actor],
        sent: ["work", done],
        before: [
          guard("EXISTS (SELECT 1 FROM quotes WHERE workspace_id = :workspace AND id = ? AND work IS NULL)", [id]),
        ],
        after: [...records.map(({ statement }) => statement), ...named],
      },
      submit_key,
    );
    return quote;
  }

  /** Tells the webhook how the quote stands after the change. */
  #told(id: string): Statement {
    return tellAnswer(this.#scope.now(), "q.workspace_id = :workspace AND q.id = ?", [id]);
  }

  async #change(
    id: string,
    version: number,
    { status, set, params, sent, before = [], after = [] }: Change,
    submit_key: SubmitKey,
  ): Promise<{ quote: Quote; repeated: boolean }> {
    const unchanged = guard(
      "EXISTS (SELECT 1 FROM quotes WHERE workspace_id = :workspace AND id = ? AND version = ? AND status = ?)",
      [id, version, status],
    );
    const update = {
      sql: `UPDATE quotes SET ${set}, version = version + 1, updated_at = ?, updated_by = ?
        WHERE workspace_id = :workspace AND id = ?`,
      params: [...params, this.#scope.now(), this.#scope.actor, id],
    };
    const { current, repeated } = await versionedChange(this.#scope, {
      key: submit_key,
      content: [id, version, ...sent],
      subject_id: id,
      subject_version: version + 1,
      statements: [unchanged, ...before, update, ...after],
      read: this.#read,
    });
    return { quote: current, repeated };
  }

  readonly #read = (id: string) => this.get(id);
}
