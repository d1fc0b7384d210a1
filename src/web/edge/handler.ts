import type { Context } from "hono";
import type { GrantedEnv } from "./access.ts";
import type { Deps } from "./deps.ts";

/** What answers one verb at one address, behind a role. */
export type Handler = (c: Context<GrantedEnv>, deps: Deps) => Response | Promise<Response>;

/**
 * Gives each handler what the runtime gives: `const by = handlersWith(deps)`, then `app.get(path, role, by(answer))`.
 */
export function handlersWith(
  deps: Deps,
): (handler: Handler) => (c: Context<GrantedEnv>) => Response | Promise<Response> {
  return (handler) => (c) => handler(c, deps);
}
