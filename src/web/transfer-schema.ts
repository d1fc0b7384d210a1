import * as z from "zod";
import type { Issue } from "../core/problem.ts";
import { PRESSURE_UNITS } from "../core/units.ts";
import type { LineHead } from "../store/ledger.ts";
import { DOCUMENT_FORMAT, DOCUMENT_VERSION, type WorkspaceDocument } from "../store/transfer.ts";
import { MAX_LABEL_CHARS } from "../store/vehicles.ts";
import { MASS_UNITS, TEMPERATURE_UNITS } from "../store/workspaces.ts";
import {
  actor,
  chargeLine,
  findingLine,
  general,
  instant,
  noteLine,
  readingsLine,
  recordId,
  text,
  vehicleStored,
  version,
} from "./record-schema.ts";

/**
 * The exported workspace, `seepwise-workspace` version 1: one JSON object, UTF-8.
 *
 *     {
 *       "format": "seepwise-workspace", "version": 1, "exported_at": "2026-05-01T12:00:00.000Z",
 *       "workspace":  { settings: name, units, currency, place, climate, time zone, plan, prices, assumptions, … },
 *       "vehicles":   [ { "id", "label", "refrigerant", "nameplate_g", … } ],
 *       "charge_log": [ { "id", "version", "change", "vehicle_id", "number", "date", "cooling", "added_g", … } ],
 *       "findings":   [ { the same head, "date", "test", "location", "result", "note", … } ],
 *       "readings":   [ { the same head, "date", "ambient_c", "low_kpa", "high_kpa", "note", … } ],
 *       "notes":      [ { the same head, "body", … } ]
 *     }
 *
 * Every field is there, null where nothing was said; amounts are grams, dates `YYYY-MM-DD`, instants UTC. The last four
 * hold every line ever written: an entry keeps its `id`, its lines count `version` from 1, and the one with the highest
 * version holds, unless its `change` is "removed". Plan, prices and assumptions are as in a request to the model.
 */
const workspace = z.strictObject({
  workspace_id: recordId,
  name: text(MAX_LABEL_CHARS),
  mass_unit: z.enum(MASS_UNITS),
  temperature_unit: z.enum(TEMPERATURE_UNITS),
  pressure_unit: z.enum(PRESSURE_UNITS),
  currency: z.string().regex(/^[A-Z]{3}$/, { error: "Give a currency by its three letters, like USD." }),
  place: text(64).nullable(),
  ...general,
  time_zone: text(64),
  version,
  created_at: instant,
  updated_at: instant,
  updated_by: actor,
});

const workspaceDocument = z.strictObject({
  format: z.literal(DOCUMENT_FORMAT, { error: "This is not an exported workspace." }),
  version: z.literal(DOCUMENT_VERSION, {
    error: "This was exported by a newer Seepwise. Import it there, or update this one.",
  }),
  exported_at: instant,
  workspace,
  vehicles: z.array(vehicleStored),
  charge_log: z.array(chargeLine),
  findings: z.array(findingLine),
  readings: z.array(readingsLine),
  notes: z.array(noteLine),
});

export type ParsedDocument = { ok: true; document: WorkspaceDocument } | { ok: false; issues: Issue[] };

const MAX_ISSUES = 100;

/** Checks what claims to be an exported workspace: its shape, and that its lines hang together. */
export function parseWorkspaceDocument(value: unknown): ParsedDocument {
  const parsed = workspaceDocument.safeParse(value);
  if (!parsed.success) {
    const issues = parsed.error.issues.slice(0, MAX_ISSUES);
    return { ok: false, issues: issues.map(({ path, message }) => ({ path: path.join("."), message })) };
  }
  const document: WorkspaceDocument = parsed.data;
  const issues = [...vehicleIssues(document), ...LEDGERS.flatMap((ledger) => lineIssues(document, ledger))];
  return issues.length === 0 ? { ok: true, document } : { ok: false, issues: issues.slice(0, MAX_ISSUES) };
}

function vehicleIssues({ vehicles }: WorkspaceDocument): Issue[] {
  const seen = new Set<string>();
  return vehicles.flatMap(({ id }, i) => {
    const twice = seen.has(id);
    seen.add(id);
    return twice ? [{ path: `vehicles.${i}.id`, message: "Two vehicles have this id." }] : [];
  });
}

const LEDGERS = ["charge_log", "findings", "readings", "notes"] as const;

/** Each line's vehicle must be in the file, and each entry's lines must count 1, 2, 3 … about one vehicle. */
function lineIssues({ vehicles, ...ledgers }: WorkspaceDocument, ledger: (typeof LEDGERS)[number]): Issue[] {
  const vehicle_ids = new Set(vehicles.map(({ id }) => id));
  const lines: (LineHead & { i: number })[] = ledgers[ledger].map((line, i) => ({ ...line, i }));
  const issues: Issue[] = [];
  for (const entry of Map.groupBy(lines, ({ id }) => id).values()) {
    const in_order = entry.toSorted((a, b) => a.version - b.version);
    const [first] = in_order;
    for (const [expected, { i, version, vehicle_id, number }] of in_order.entries()) {
      const issue = (field: string, message: string) => issues.push({ path: `${ledger}.${i}.${field}`, message });
      if (!vehicle_ids.has(vehicle_id)) issue("vehicle_id", "The vehicle of this line is not in the file.");
      if (version !== expected + 1) issue("version", "The lines of one entry must count their versions 1, 2, 3 …");
      if (vehicle_id !== first!.vehicle_id || number !== first!.number)
        issue("vehicle_id", "The lines of one entry must be about one vehicle and have one number.");
    }
  }
  return issues;
}
