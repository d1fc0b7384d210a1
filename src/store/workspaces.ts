import { PRESSURE_UNITS, type PressureUnit } from "../core/quantities/units.ts";
import type { AssumptionsInput, PlanInput } from "../core/question/contract.ts";
import type { OwnPrices } from "../core/question/record.ts";
import { type Columns, json, namesOf, nullable, number, oneOf, picked, rowReader, rowWriter, text } from "./columns.ts";
import { notFound } from "./errors.ts";
import { newId, type RandomBytes } from "./ids.ts";
import type { Scope, SubmitKey } from "./scope.ts";
import type { Param, Sql, Statement } from "./sql.ts";
import { atVersion, versionedChange } from "./versioned-change.ts";

export const MASS_UNITS = ["g", "oz", "lb-oz"] as const;
export type MassUnit = (typeof MASS_UNITS)[number];

export const TEMPERATURE_UNITS = ["C", "F"] as const;
export type TemperatureUnit = (typeof TEMPERATURE_UNITS)[number];

/** What a workspace is set to: how things are shown, and what holds for every vehicle that does not say otherwise. */
export interface Settings {
  name: string;
  mass_unit: MassUnit;
  temperature_unit: TemperatureUnit;
  pressure_unit: PressureUnit;
  /** ISO 4217, like `USD`. */
  currency: string;
  /** Whose rules apply: an id of the table of rules; null where nobody said. */
  place: string | null;
  /** A preset climate; null where nobody said. */
  climate: string | null;
  /** Twelve monthly means, January first, °C; they go before `climate`. */
  monthly_mean_c: number[] | null;
  /** IANA name; "today" is the date there. */
  time_zone: string;
  plan: PlanInput;
  prices: OwnPrices;
  assumptions: AssumptionsInput;
}

export interface Workspace extends Settings {
  workspace_id: string;
  version: number;
  created_at: string;
  updated_at: string;
  updated_by: string;
}

/** @internal Called from outside by tests alone. */
export const DEFAULT_SETTINGS: Settings = {
  name: "My vehicles",
  mass_unit: "oz",
  temperature_unit: "F",
  pressure_unit: "psi-gauge",
  currency: "USD",
  place: null,
  climate: null,
  monthly_mean_c: null,
  time_zone: "UTC",
  plan: {},
  prices: {},
  assumptions: {},
};

const SET: Columns<Settings> = {
  name: text,
  mass_unit: oneOf(MASS_UNITS),
  temperature_unit: oneOf(TEMPERATURE_UNITS),
  pressure_unit: oneOf(PRESSURE_UNITS),
  currency: text,
  place: nullable(text),
  climate: nullable(text),
  monthly_mean_c: nullable(json()),
  time_zone: text,
  plan: json(),
  prices: json(),
  assumptions: json(),
};

const WORKSPACE: Columns<Workspace> = {
  workspace_id: text,
  ...SET,
  version: number,
  created_at: text,
  updated_at: text,
  updated_by: text,
};

export const SETTINGS = namesOf(SET);

/** All that there is to a workspace, to be narrowed by a WHERE. */
export const SELECT_WORKSPACES = `SELECT ${namesOf(WORKSPACE).join(", ")} FROM workspaces`;

export const workspaceOf = rowReader(WORKSPACE);

export interface WorkspaceOptions {
  sql: Sql;
  now: () => Date;
  random: RandomBytes;
  settings?: Partial<Settings>;
}

/** Makes an empty workspace and gives its id. */
export async function createWorkspace(options: WorkspaceOptions): Promise<string> {
  const workspace_id = newId(options.random);
  await insertWorkspace(options, workspace_id);
  return workspace_id;
}

/** The one workspace of a machine without sign-in. */
export const LOCAL_WORKSPACE = "local";

/** Makes the local workspace unless it is there already. */
export async function ensureLocalWorkspace(options: Omit<WorkspaceOptions, "random">): Promise<void> {
  // Reads first, so that nothing is written where the records are read-only.
  const there = await options.sql.all("SELECT 1 AS found FROM workspaces WHERE workspace_id = ?", [LOCAL_WORKSPACE]);
  if (there.length === 0) await insertWorkspace(options, LOCAL_WORKSPACE);
}

async function insertWorkspace({ sql, now, settings }: Omit<WorkspaceOptions, "random">, workspace_id: string) {
  const at = now().toISOString();
  await sql.all(
    `INSERT INTO workspaces (workspace_id, ${SETTINGS.join(", ")}, version, created_at, updated_at, updated_by)
     VALUES (?, ${SETTINGS.map(() => "?").join(", ")}, 1, ?, ?, 'setup') ON CONFLICT DO NOTHING`,
    [workspace_id, ...settingsValues({ ...DEFAULT_SETTINGS, ...settings }), at, at],
  );
}

/** The settings of one workspace. */
export class WorkspaceSettings {
  readonly #scope: Scope;

  constructor(scope: Scope) {
    this.#scope = scope;
  }

  /** The statement of `get`, to be read in one batch with others. */
  readonly reading = { sql: `${SELECT_WORKSPACES} WHERE workspace_id = :workspace` };

  async get(): Promise<Workspace> {
    const [row] = await this.#scope.all(this.reading.sql);
    if (row === undefined) throw notFound("workspace");
    return workspaceOf(row);
  }

  /** Sets everything at once. Throws `Conflict` with what is set now, when that is not version `version` any more. */
  async update(settings: Settings, version: number, submit_key: SubmitKey = null): Promise<Workspace> {
    const update = {
      sql: `UPDATE workspaces SET ${SETTINGS.map((name) => `${name} = ?`).join(", ")}, version = version + 1,
        updated_at = ?, updated_by = ? WHERE workspace_id = :workspace`,
      params: [...settingsValues(settings), this.#scope.now(), this.#scope.actor],
    };
    const { current } = await versionedChange(this.#scope, {
      key: submit_key,
      content: settings,
      subject_id: this.#scope.workspaceId,
      subject_version: version + 1,
      statements: [atVersion("workspaces", version), ...keepingOwnCurrencies(settings.currency), update],
      read: () => this.get(),
    });
    return current;
  }
}

/** Before the workspace goes over to another currency, what was said in the one it has had is marked as being in it. */
function keepingOwnCurrencies(becomes: string): Statement[] {
  const has = "(SELECT currency FROM workspaces WHERE workspace_id = :workspace)";
  return [
    {
      sql: `UPDATE vehicles SET prices = json_set(prices, '$.currency', ${has})
        WHERE workspace_id = :workspace AND ${has} <> ? AND prices ->> '$.currency' IS NULL
          AND (prices <> '{}' OR plan ->> '$.carbon_price_per_t' IS NOT NULL OR plan ->> '$.season_worth' IS NOT NULL)`,
      params: [becomes],
    },
  ];
}

/** In the order of `SETTINGS`. */
export function settingsValues(settings: Settings): Param[] {
  return Object.values(rowWriter(SET)(settings));
}

/** Of a workspace, what it is set to. */
export function settingsOf(workspace: Settings): Settings {
  return picked(SET, workspace);
}
