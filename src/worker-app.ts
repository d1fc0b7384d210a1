import manifest from "../dist/assets.json";
import { createApp } from "./app.ts";
import { Problem } from "./core/problem.ts";
import { placeOf } from "./object-place.ts";
import { errorLine } from "./operations/log.ts";
import { NO_RECORDS, type RemoteRecords, RemoteSql } from "./store/object-sql.ts";
import type { Sql } from "./store/sql.ts";
import { assetUrl } from "./web/edge/asset-url.ts";
import { calendarDay } from "./web/edge/calendar-day.ts";
import { type Condition, type Deps, Unreachable, type WebhookPost } from "./web/edge/deps.ts";
import { MODEL_IN_PLACE } from "./web/edge/model.ts";
import { KeptPages } from "./web/edge/page-cache.ts";
import { boundLimit, NO_LIMITS, type RateLimitBinding } from "./web/edge/rate-limit.ts";
import type { Room } from "./web/edge/room.ts";
import { workbookSheets } from "./web/edge/workbook.ts";

/** A workspace's object as others reach it. */
export interface WorkspaceStub extends RemoteRecords {
  fetch(request: Request): Promise<Response>;
  /** Bytes that its records take. */
  size(): Promise<number>;
  /** When it wakes next by itself, in milliseconds; null: only when it is asked. */
  wakes(): Promise<number | null>;
}

/** What `wrangler.toml` declares. */
export interface Bindings {
  WORKSPACES: {
    newUniqueId(): ObjectId;
    /** Throws TypeError for an id that this namespace never gave out. */
    idFromString(id: string): ObjectId;
    get(id: ObjectId): WorkspaceStub;
  };
  /** `yes`: someone without access may begin records of their own. */
  NEW_RECORDS?: string;
  /** Megabytes that one workspace may take. */
  WORKSPACE_MB?: string;
  /** Days that a workspace stays in which nothing is kept. */
  EMPTY_DAYS?: string;
  /** Limits by address; where one is not set up, nothing limits that. */
  GUESSES?: RateLimitBinding;
  BEGINS?: RateLimitBinding;
  QUESTIONS?: RateLimitBinding;
}

interface ObjectId {
  /** 64 hexadecimal figures, signed by the platform. */
  toString(): string;
}

/** What an object, or the Worker for people without a key, gives to a request. */
export interface Place {
  sql: Sql;
  /** Bytes that the records take; null where there are none. */
  bytes(): number | null;
  /** How much room its records have. */
  room: Room | null;
  /** Pages of these records, while it is in memory; nobody else's are among them. */
  pages: KeptPages;
  /** What is remembered of it while it is in memory. */
  remembered: Pick<Condition, "last_error" | "since">;
}

/** The records that one request is about. */
class RequestRecords {
  sql: Sql;
  readonly place: Place;
  readonly #objects: Bindings["WORKSPACES"];

  constructor(place: Place, objects: Bindings["WORKSPACES"]) {
    this.sql = place.sql;
    this.place = place;
    this.#objects = objects;
  }

  /** An object for someone new. Nobody looks anything up to find it again: its keys say where it is. */
  begin(): Sql {
    const id = this.#objects.newUniqueId();
    this.sql = new RemoteSql(this.#objects.get(id), placeOf(id.toString()));
    return this.sql;
  }
}

interface RequestEnv extends Bindings {
  records: RequestRecords;
}

export const deps: Deps = {
  now: () => new Date(),
  timeZone: (c) => timeZoneOf(c.req.raw),
  today: (c) => calendarDay(new Date(), timeZoneOf(c.req.raw)),
  clientAddress: (c) => c.req.header("CF-Connecting-IP") ?? null,
  origin: (c) => new URL(c.req.url).origin,
  limits: (c) => {
    const { GUESSES, BEGINS, QUESTIONS } = c.env as RequestEnv;
    return {
      // What is done with a key is done in the workspace's own object, and keeps nobody else waiting.
      ...NO_LIMITS,
      guesses: boundLimit(GUESSES),
      begins: boundLimit(BEGINS),
      questions: boundLimit(QUESTIONS),
    };
  },
  room: (c) => (c.env as RequestEnv).records.place.room,
  model: MODEL_IN_PLACE,
  workbook: workbookSheets,
  random: (bytes) => crypto.getRandomValues(new Uint8Array(bytes)),
  asset: assetUrl(manifest),
  packPage: null,
  ownPages: (c) => (c.env as RequestEnv).records.place.pages,
  sql: (c) => (c.env as RequestEnv).records.sql,
  sqlToBegin: (c) => (c.env as RequestEnv).records.begin(),
  access_mode: "links",
  newcomers: (c) => (c.env as RequestEnv).NEW_RECORDS === "yes",
  // The object looks after each change whether work is left, and wakes itself for it.
  keepWorking: () => {},
  post: (url, headers, body) => postOutside(url, headers, body),
  condition: async (c) => {
    const { place } = (c.env as RequestEnv).records;
    return { of_all: false, bytes: place.bytes(), last_backup: "platform", ...place.remembered };
  },
  reportError: (error, request, c) => {
    const { remembered } = (c.env as RequestEnv).records.place;
    remembered.last_error = { at: new Date().toISOString(), id: request.id };
    console.error(errorLine(error, request));
  },
};

/** How long the receiver of a message may take. */
const POST_TIME_OUT_MS = 10_000;

/** The platform itself reaches nothing but the public internet. */
const postOutside: WebhookPost = async (url, headers, body) => {
  try {
    const signal = AbortSignal.timeout(POST_TIME_OUT_MS);
    const answered = await fetch(url, { method: "POST", headers, body, redirect: "manual", signal });
    await answered.body?.cancel();
    return answered.status;
  } catch (error) {
    const slow = error instanceof Error && error.name === "TimeoutError";
    throw new Unreachable(slow ? "No answer in time" : "No connection");
  }
};

const app = createApp(deps);

/** Where someone without a key is. */
const NOWHERE: Place = {
  sql: NO_RECORDS,
  bytes: () => null,
  room: null,
  pages: new KeptPages(0),
  remembered: { last_error: null, since: new Date().toISOString() },
};

/** Answers a request about the records of a place; without one, that of someone who has no key. */
export async function answer(request: Request, bindings: Bindings, place: Place = NOWHERE): Promise<Response> {
  const records = new RequestRecords(place, bindings.WORKSPACES);
  return app.fetch(request, { ...bindings, records } satisfies RequestEnv);
}

/** Passes a request on to the object of its workspace; of one that breaks off or cannot be reached our words tell. */
export async function passOn(request: Request, object: WorkspaceStub, bindings: Bindings): Promise<Response> {
  // Its body is gone with the first try.
  const { url, method, headers } = request;
  try {
    return await object.fetch(request);
  } catch (error) {
    const failure = new Problem("unavailable", method === "GET" || method === "HEAD" ? NO_ANSWER : NO_ANSWER_TO_CHANGE);
    failure.cause = error;
    const fails = () => Promise.reject(failure);
    return answer(new Request(url, { method, headers }), bindings, {
      ...NOWHERE,
      sql: { place: "", all: fails, batch: fails },
    });
  }
}

const NO_ANSWER = "The records cannot be reached just now. Wait a moment, then try again.";
const NO_ANSWER_TO_CHANGE =
  "The records did not answer. Wait a moment, then look whether your change is there before you send it again.";

/** Where the person is: the edge knows their time zone. Elsewhere than at the edge it is UTC. */
function timeZoneOf(request: Request): string {
  const { cf } = request as Request & { cf?: { timezone?: string } };
  return cf?.timezone ?? "UTC";
}
