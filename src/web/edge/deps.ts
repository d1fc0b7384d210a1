import type { Context, Hono } from "hono";
import type { RequestIdVariables } from "hono/request-id";
import type { AssetUrl } from "../../../views/assets.ts";
import type { Access } from "../../store/access.ts";
import type { Sql } from "../../store/sql.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { FleetFilesOf } from "./fleet-files.ts";
import type { Model } from "./model.ts";
import type { KeptPages, PackPage } from "./page-cache.ts";
import type { RateLimits } from "./rate-limit.ts";
import type { Room } from "./room.ts";
import type { GiveOut, TakeIn, Unpack } from "./take-in.ts";
import type { Secured } from "./whole-answer.ts";
import type { Workbook } from "./workbook.ts";

/**
 * `local`: one workspace, no sign-in, for an address that only this machine reaches. `links`: access links and keys.
 */
export type AccessMode = "local" | "links";

/** What is known about the visitor. Each is looked up when first needed, and only once. */
export interface Visitor {
  /**
   * As whom they act, or null for someone without access. Throws `Problem` sign-in-needed for a key that is no good.
   */
  access(): Promise<Access | null>;
  /** The records that an access opens. */
  store(access: Access): WorkspaceStore;
}

/** What an owner is told of the records as a whole. */
export interface Condition {
  /** Whether other workspaces are counted in: then it is told to the owner of the machine alone. */
  of_all: boolean;
  /** What they take, where that can be told. */
  bytes: number | null;
  /** When a copy was last taken, an instant; `platform` where the platform keeps what there was; null for never. */
  last_backup: string | "platform" | null;
  /** The last thing that went wrong here since the program started; null for nothing. */
  last_error: { at: string; id: string } | null;
  /** When the program started, an instant. */
  since: string;
}

/**
 * POSTs `body` to a webhook and gives the status. The answer's text is not read, redirects are not followed. Throws
 * `Unreachable` where there was no answer, or where the address leads into a network of the server's own.
 */
export type WebhookPost = (url: string, headers: Readonly<Record<string, string>>, body: string) => Promise<number>;

/** Why nothing answered, in words for the owner. */
export class Unreachable extends Error {
  override readonly name = "Unreachable";
}

/** Everything impure that routes use: clock, randomness, database and so on. Tests replace it. */
export interface Deps {
  /** The current instant. */
  now(): Date;
  /** Where the person is: an IANA name like "America/Chicago". */
  timeZone(c: Context): string;
  /** The calendar day where the person is, `YYYY-MM-DD`. */
  today(c: Context): string;
  /** The client's address; null where it is unknown. */
  clientAddress(c: Context): string | null;
  /** Where this server is reached, as the browser has it: `https://garage.example`. */
  origin(c: Context): string;
  /** How often an address may try keys, begin workspaces, and have questions computed. */
  limits(c: Context): RateLimits;
  /** How much room each workspace has; null where there is no limit. */
  room(c: Context): Room | null;
  /** The model, wherever this runtime computes it. */
  model: Model;
  /** The sheets of a workbook. A large one takes seconds: it is read beside the requests where that is possible. */
  workbook(bytes: ArrayBuffer): Promise<Workbook>;
  /** Takes exported records in beside the requests, where that is possible: a large file takes seconds. */
  takeIn?: TakeIn;
  /** Unpacks such a file that comes back with its form, likewise. */
  unpack?: Unpack;
  /** Reads and takes in a fleet's files, likewise. */
  fleetFiles?: FleetFilesOf;
  /** Writes records out beside the requests, likewise. */
  giveOut?: GiveOut;
  /** That many bytes of cryptographic randomness. */
  random(bytes: number): Uint8Array<ArrayBuffer>;
  asset: AssetUrl;
  /** Compresses kept pages; null where the platform compresses what is sent. */
  packPage: PackPage | null;
  /** Where pages of a workspace are kept that has a process to itself; without it all are kept in one place. */
  ownPages?(c: Context): KeptPages;
  /** The database with the records. */
  sql(c: Context): Sql;
  /** The database for a new workspace, which this request uses from then on. */
  sqlToBegin(c: Context): Sql;
  access_mode: AccessMode;
  /** Whether someone without access may begin records of their own here. */
  newcomers(c: Context): boolean;
  /**
   * Runs `step` between requests until it reports that nothing is left, once at a time for each key. Null on a runtime
   * that stops after the answer: there each request does one step.
   */
  keepWorking: ((key: string, step: () => Promise<boolean>) => void) | null;
  /** Sends a message to a webhook. */
  post: WebhookPost;
  /** How the records are, for their owner. */
  condition(c: Context): Promise<Condition>;
  /** Called with unexpected errors: the only place where a stack trace goes. `route` is the pattern, never the path. */
  reportError(error: unknown, request: { id: string; method: string; route: string }, c: Context): void;
}

export interface AppEnv {
  Variables: RequestIdVariables & Secured & { visit: Visitor };
}

export type App = Hono<AppEnv>;
