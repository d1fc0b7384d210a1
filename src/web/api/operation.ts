import { type Context, Hono, type MiddlewareHandler } from "hono";
import { QUOTE_STATES } from "../../core/quotes/quote.ts";
import type { Role } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv } from "../edge/deps.ts";
import type { SchemaName } from "./schemas.ts";

/** What one address of the API does, and who may use it: its route and its description are made from this. */
export interface Operation {
  method: "get" | "post" | "put" | "delete";
  /** As the router writes it: `/api/vehicles/:id`. */
  path: string;
  id: string;
  summary: string;
  /** What is to be known beside the summary. */
  description?: string;
  /** Who may; null: everyone, without a key. */
  role: Role | null;
  query?: readonly QueryName[];
  takes?: SchemaName;
  /** Null: any JSON object. */
  gives: SchemaName | null;
  status?: 200 | 201;
  /** Takes the version that the caller saw, and answers with the stored one. */
  versioned?: boolean;
  tagged?: boolean;
  /** A list whose answer names the address of its next page in a header. */
  paged?: boolean;
  /** Bodies larger than usual. */
  limit?: MiddlewareHandler;
}

/** What every page of a list may be asked for. */
export const PAGE_LIMIT = { default: 100, max: 200 } as const;

/** The parameters of addresses, each described once. */
export const QUERY = {
  search: {
    description:
      "Words to find: of vehicles all must occur in label, group, depot, notes or remarks; of others in name, plate, VIN or number.",
    schema: { type: "string" },
  },
  fleet_group: { description: "Only this group.", schema: { type: "string" } },
  depot: { description: "Only this depot.", schema: { type: "string" } },
  archived: {
    description: "The archived vehicles instead of those in use.",
    schema: { type: "boolean", default: false },
  },
  limit: {
    description: "How many at most.",
    schema: { type: "integer", minimum: 1, maximum: PAGE_LIMIT.max, default: PAGE_LIMIT.default },
  },
  after: { description: "The `next` of the page before.", schema: { type: "string" } },
  state: {
    description: "Only quotes that stand so today.",
    schema: { type: "string", enum: QUOTE_STATES },
  },
  changed_since: {
    description: "Only those whose recommendation or watch month became what it is at this instant or later.",
    schema: { type: "string", format: "date-time" },
  },
  as_of: {
    description: "The day of the question; today where the workspace is, unless given.",
    schema: { type: "string", format: "date" },
  },
} as const;

type QueryName = keyof typeof QUERY;

export type ApiContext = Context<AppEnv & GrantedEnv>;
type Handler<C> = (c: C) => Response | Promise<Response>;

/** Collects the API: each operation brings its route, role and description together, so that none can be missing. */
export class Api {
  readonly app = new Hono<AppEnv>();
  readonly operations: Operation[] = [];

  /**
   * Adds an address that everyone may ask.
   *
   * @example
   * api.open({ method: "get", path: "/api/hello", id: "hello", summary: "Hello.", gives: null }, (c) => c.json({}));
   */
  open(operation: Omit<Operation, "role">, handler: Handler<Context<AppEnv>>): void {
    this.operations.push({ ...operation, role: null });
    this.app.on(operation.method, operation.path, handler);
  }

  /** Adds an address of a workspace. `handler` runs only for callers with the role. */
  add(operation: Operation & { role: Role }, handler: Handler<ApiContext>): void {
    this.operations.push(operation);
    const { method, path, role, limit } = operation;
    if (limit === undefined) this.app.on(method, path, requireRole(role), handler);
    else this.app.on(method, path, requireRole(role), limit, handler);
  }
}
