/** What the Worker takes from its runtime, typed here so that nothing else of that runtime is in sight elsewhere. */
declare module "cloudflare:workers" {
  import type { DurableObjectState } from "@cloudflare/workers-types";

  export abstract class DurableObject<Env> {
    protected readonly ctx: DurableObjectState;
    protected readonly env: Env;
    constructor(ctx: DurableObjectState, env: Env);
  }
}

/** The build's list of schema changes, for a runtime without files. */
declare module "*/dist/migrations.json" {
  const migrations: readonly { name: string; sql: string; indexes: readonly string[] }[];
  export default migrations;
}

/** The build's list of tables that an object makes when it needs them. */
declare module "*/dist/late-tables.json" {
  const tables: readonly {
    name: string;
    columns: readonly string[];
    sql: readonly string[];
    indexes: readonly string[];
    needs: readonly string[];
  }[];
  export default tables;
}
