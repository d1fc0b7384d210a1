import { readingBounds } from "../../../data/readings-table.ts";
import type { PlaceId } from "../../../data/rules.ts";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import type { TopOffFields } from "../../../views/top-off/top-off-fields.ts";
import { formatTemperature } from "../../core/quantities/format.ts";
import { parseTemperature } from "../../core/quantities/parse-reading.ts";
import type { UnitSystem } from "../../core/quantities/units.ts";
import { CAN_SEALS, type CanSeal, READINGS_SAY, type ReadingsSay } from "../../core/question/contract.ts";
import { judgeReadings } from "../../core/readings/judge.ts";
import type { FindingId } from "../../core/readings/readings-contract.ts";
import { isPlace } from "../../core/rules/rules.ts";
import {
  COMPRESSOR_DRIVES,
  type CompressorDrive,
  SYSTEM_CONTENTS,
  type SystemContents,
  type TopOffCase,
} from "../../core/top-off-plan.ts";
import { Refusals } from "../forms/form-reading.ts";
import { oneOf } from "../forms/typed-values.ts";
import { readingsOfAddress, readReadingsForm } from "../readings/readings-form.ts";
import { saidInFields } from "../start/quick-case.ts";

/** What the plan was told beside the charge log; what cannot be read is named, and counts as not said. */
export interface TopOffQuestion {
  fields: TopOffFields;
  errors: FieldError[];
  ambient_c: number | null;
  place: PlaceId;
  compressor: CompressorDrive;
  contents: SystemContents;
  readings_say: ReadingsSay | null;
  can_seal: CanSeal;
  found: FindingId | null;
  vapor_g: TopOffCase["vapor_g"];
}

/** The fields of an address: `?ambient=85+F&where=us-ca&compressor=belt&says=low&seal=self-sealing`. */
export function readTopOffForm(query: URLSearchParams, units: UnitSystem): TopOffQuestion {
  const fields: TopOffFields = {
    ambient: query.get("ambient") ?? "",
    where: query.get("where") ?? "elsewhere",
    compressor: driveOf(query),
    contents: query.get("contents") ?? "unknown",
    says: query.get("says") ?? "",
    seal: query.get("seal") ?? "self-sealing",
  };
  const refusals = new Refusals();
  const { refuse } = refusals;
  const chosen = <const T extends string>(field: keyof TopOffFields, choices: readonly T[], message: string) =>
    oneOf(choices, fields[field]) ?? refuse(field, message);
  const read = {
    ambient_c: readAmbient(fields.ambient, units, refusals),
    place: isPlace(fields.where) ? fields.where : (refuse("where", "Choose where the vehicle is") ?? "elsewhere"),
    compressor: chosen("compressor", COMPRESSOR_DRIVES, "Choose what drives the compressor") ?? "unknown",
    contents: chosen("contents", SYSTEM_CONTENTS, "Choose what is in the system") ?? "unknown",
    readings_say: fields.says === "" ? null : (chosen("says", READINGS_SAY, "Choose what the readings say") ?? null),
    can_seal: chosen("seal", CAN_SEALS, "Choose the kind of can") ?? "self-sealing",
  } as const;
  return { fields, errors: refusals.all(), ...read, ...readBefore(query) };
}

/** Earlier readings: their finding, and grams from a static pressure without liquid. */
function readBefore(query: URLSearchParams): Pick<TopOffQuestion, "found" | "vapor_g"> {
  const { found } = saidInFields({ says: query.get("says") ?? "", found: query.get("found") ?? "" });
  if (!query.has("static")) return { found, vapor_g: null };
  const { readings } = readReadingsForm(readingsOfAddress(query));
  const answer = readings === null ? null : judgeReadings(readings);
  const standing = answer?.kind === "judgement" ? answer.static : null;
  return { found, vapor_g: standing?.state === "no-liquid" ? standing.grams : null };
}

/**
 * High voltage, said in the quick question, always wins, since it stops the plan; else that answer is only the default.
 */
function driveOf(query: URLSearchParams): string {
  const electric = query.get("electric");
  if (electric === "yes") return "electric";
  return query.get("compressor") ?? (electric === "no" ? "belt" : "unknown");
}

function readAmbient(typed: string, units: UnitSystem, { refuse }: Refusals): number | null {
  if (typed.trim() === "") return null;
  const { min, max } = readingBounds.ambient_c;
  const parsed = parseTemperature(typed, units);
  if (parsed.ok && parsed.t_c >= min && parsed.t_c <= max) return parsed.t_c;
  const [from, to] = [min, max].map((t_c) => formatTemperature(t_c, units));
  return refuse("ambient", `Enter the air temperature, like 85 °F or 29 °C; from ${from} to ${to}`) ?? null;
}
