import type { KnownVehicle } from "../../../../src/store/imported-vehicle.ts";
import { decodedText } from "../../../../src/web/fleet/import/csv-text.ts";
import { type MappingAnswers, mappingOf } from "../../../../src/web/fleet/import/mapping.ts";
import { agreedVehicles, readFleetFiles } from "../../../../src/web/fleet/import/reading.ts";
import { AGREEMENTS, type FleetFile } from "../../../../src/web/fleet/import/reading-shapes.ts";
import { surveyOf } from "../../../../src/web/fleet/import/survey.ts";

export const TODAY = "2026-05-01";

/** Bytes in pieces of an awkward size, so that letters and line endings are cut in two. */
export function inPieces(bytes: Uint8Array, size = 7) {
  return async function* () {
    for (let from = 0; from < bytes.length; from += size) yield bytes.subarray(from, from + size);
  };
}

export async function fileOf(content: string | Uint8Array, answers: MappingAnswers = {}, name = "fleet.csv") {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  const decoded = await decodedText(inPieces(bytes, bytes.length > 10_000 ? 65_536 : 7));
  if (!decoded.ok) throw new Error(decoded.message);
  const survey = await surveyOf(decoded.text);
  const { mapping, questions } = mappingOf(survey, answers);
  const file: FleetFile = { name, text: decoded.text, survey, mapping };
  return { file, survey, questions, encoding: decoded.encoding };
}

/** What a file comes to when everything is agreed to, with nothing here yet. */
export async function readingOf(
  content: string | Uint8Array,
  answers: MappingAnswers = {},
  known: KnownVehicle[] = [],
) {
  const { file } = await fileOf(content, answers);
  const reading = await readFleetFiles([file], known, { today: TODAY, can_net_g: null });
  return { ...reading, vehicles: agreedVehicles(reading, new Set(AGREEMENTS)) };
}
