import type { Context, Hono } from "hono";
import type { RequestIdVariables } from "hono/request-id";
import type { AssetUrl } from "../../../views/assets.ts";
import type { Sql } from "../../store/sql.ts";
import type { AccessMode, Visit } from "./access.ts";
import type { GuessLimit } from "./guess-limit.ts";

/** What the runtime gives to the app. Routes take everything that is not pure from here, so that a test can fix it. */
export interface Deps {
  /** The current instant. */
  now(): Date;
  /** Where the person is: an IANA name like "America/Chicago". */
  timeZone(c: Context): string;
  /** The calendar day where the person is, `YYYY-MM-DD`. */
  today(c: Context): string;
  /** The address that the request came from; null where there is none to tell. */
  clientAddress(c: Context): string | null;
  /** Where this server is reached, as the browser has it: `https://garage.example`. */
  origin(c: Context): string;
  guesses(c: Context): GuessLimit;
  /** That many bytes of cryptographic randomness. */
  random(bytes: number): Uint8Array<ArrayBuffer>;
  asset: AssetUrl;
  /** The database with the records. */
  sql(c: Context): Sql;
  access_mode: AccessMode;
  /**
   * Goes on with `step` between requests until it says that nothing is left, once at a time for each key. Null where
   * nothing goes on after an answer: there each request does a step.
   */
  keepWorking: ((key: string, step: () => Promise<boolean>) => void) | null;
  /** Called with what nobody expected: the only place where a stack trace goes. */
  reportError(error: unknown, request: { id: string; method: string; path: string }): void;
}

export interface AppEnv {
  Variables: RequestIdVariables & { visit: Visit };
}

export type App = Hono<AppEnv>;
