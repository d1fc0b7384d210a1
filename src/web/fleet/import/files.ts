import type { FieldError } from "../../../../views/parts/error-summary.tsx";
import type { WorkspaceStore } from "../../../store/workspace-store.ts";
import type { Deps } from "../../edge/deps.ts";
import type { Agreed, FleetFiles, SentFleetFile } from "../../edge/fleet-files.ts";
import { bytesOf } from "../../forms/upload.ts";
import { todayIn } from "../../workspace.ts";
import type { Text } from "./csv-text.ts";
import { sayLogged } from "./logged.ts";
import { mappingOf } from "./mapping.ts";
import { agreedVehicles, readFleetFiles } from "./reading.ts";
import { AGREEMENTS, type FleetReading } from "./reading-shapes.ts";
import { refusedCsv } from "./refused-csv.ts";
import { reportOf } from "./report.ts";
import { firstAnswers, type SentSheet, sentFile } from "./sent-file.ts";
import { headersKey, type Survey, surveyOf } from "./survey.ts";
import { importsOf, type Waiting } from "./waiting.ts";

interface Around extends Pick<Deps, "now" | "workbook"> {
  store: WorkspaceStore;
}

/** The work with a fleet's files, here and now; between pieces others are served. */
export function fleetFilesHere(around: Around): FleetFiles {
  const imports = importsOf(around.store);
  return {
    keep: (sent) => keep(around, sent),
    async look(id) {
      const reading = await readingOf(around, await imports.get(id));
      const vehicles = agreedVehicles(reading, new Set(AGREEMENTS));
      return reportOf(reading, await around.store.fleetImport.preview(vehicles));
    },
    rejected: async (id, file) => refusedCsv(await readingOf(around, await imports.get(id)), file),
    take: async (id, agreed) => take(around, await imports.get(id), agreed),
  };
}

/** The files with the fields that they came in. */
async function keep({ store, workbook }: Around, sent: readonly SentFleetFile[]) {
  const errors: FieldError[] = [];
  const sheets: SentSheet[] = [];
  for (const { field, name, pieces } of sent) {
    const bytes = async function* () {
      yield* pieces;
    };
    const read = await sentFile({ name, bytes, whole: async () => bytesOf(pieces).buffer, workbook });
    if (read.ok) sheets.push(...read.sheets);
    else errors.push({ field, message: `${name}: ${read.message}` });
  }
  if (errors.length > 0) return { ok: false as const, errors };
  return { ok: true as const, id: await importsOf(store).keep(await asLastTime(store, sheets)) };
}

async function take(around: Around, waiting: Waiting, agreed: Agreed): Promise<void> {
  const { store, now } = around;
  if (waiting.report !== null) return;
  const reading = await readingOf(around, waiting);
  const vehicles = agreedVehicles(reading, new Set(AGREEMENTS.filter((one) => agreed.agreements.includes(one))));
  const { corrections } = await store.fleetImport.preview(vehicles);
  const counts = await store.fleetImport.add(vehicles, {
    import_id: waiting.id,
    corrections: agreed.corrections,
    changes: agreed.changes,
  });
  if (agreed.logged) await sayLogged(store, reading, todayIn(await store.settings.get(), now()));
  const report = reportOf(reading, { counts, corrections: agreed.corrections ? corrections : [] });
  const refused = reading.files.flatMap(({ name: _ }, file) =>
    reading.refused.some((row) => row.file === file) ? [{ file, text: refusedCsv(reading, file) }] : [],
  );
  const mappings = waiting.files.flatMap(({ key }, number) => {
    const answers = waiting.answers[number] ?? {};
    return key === "" ? [] : [{ headers: key, answers }];
  });
  await importsOf(store).finish(waiting.id, report, refused, mappings);
}

/** The sheets with the answers that files with the same headers got the last time. */
async function asLastTime(store: WorkspaceStore, sheets: readonly SentSheet[]) {
  const imports = importsOf(store);
  const first = firstAnswers(sheets);
  const files = [];
  for (const [number, sheet] of sheets.entries()) {
    const key = headersKey(sheet.survey);
    const kept = key === "" ? null : await imports.mapping(key);
    const file = { name: sheet.name, survey: sheet.survey, key, kept: kept !== null };
    const { survey } = await withHeaderAt(file, kept?.header_row, sheet.text);
    files.push({ ...file, survey, text: sheet.text(), answers: kept ?? first[number]! });
  }
  return files;
}

/** The file as it looks with its header in another row. */
export async function withHeaderAt<File extends { survey: Survey }>(
  file: File,
  header_row: number | undefined,
  text: Text,
): Promise<File> {
  const { survey } = file;
  if (header_row === undefined || header_row === survey.header_row) return file;
  const again = await surveyOf(text, { typed_numbers: survey.typed_numbers, header_row });
  return again.broken === null ? { ...file, survey: again } : file;
}

/** Reads the rows with the mapping. */
async function readingOf({ store, now }: Around, waiting: Waiting): Promise<FleetReading> {
  const [workspace, known] = await Promise.all([store.settings.get(), store.fleetImport.known()]);
  const files = waiting.files.flatMap(({ name, survey }, number) => {
    const answers = waiting.answers[number] ?? {};
    if (answers.skip) return [];
    return [
      { name, survey, mapping: mappingOf(survey, answers).mapping, text: () => store.imports.text(waiting.id, number) },
    ];
  });
  const today = todayIn(workspace, now());
  return readFleetFiles(files, known, { today, can_net_g: workspace.prices.can_net_g ?? null });
}
