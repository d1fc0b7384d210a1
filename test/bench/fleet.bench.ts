/**
 * A fleet of 10 000 invented vehicles with 100 000 entries, from CSV text to a budget, reckoned as a server does it: in
 * threads, while it answers others:
 *
 *     npm run bench -- fleet, or: node test/bench/fleet.bench.ts [vehicles]
 *
 * Each line is a measurement, what it may be, and the digest of the results, so that nobody makes it fast by making it
 * wrong. Budgets: DESIGN §6.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { monitorEventLoopDelay } from "node:perf_hooks";
import { planBudget } from "../../src/core/fleet/budget.ts";
import { modelPool } from "../../src/model-pool.ts";
import { contentHash } from "../../src/store/hash.ts";
import { migrate } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { workspaceStore } from "../../src/store/workspace-store.ts";
import { createWorkspace } from "../../src/store/workspaces.ts";
import type { Model } from "../../src/web/edge/model.ts";
import { sliceOf } from "../../src/web/fleet/background.ts";
import { decodedText } from "../../src/web/fleet/import/csv-text.ts";
import { mappingOf } from "../../src/web/fleet/import/mapping.ts";
import { agreedVehicles, readFleetFiles } from "../../src/web/fleet/import/reading.ts";
import { surveyOf } from "../../src/web/fleet/import/survey.ts";
import { freshFrom, reckonSlice } from "../../src/web/fleet/reckoning.ts";
import { fleetCsv } from "../support/fleet-csv.ts";
import { seededRandom } from "../support/random.ts";
import { lineOf, type Measurement, medianOf } from "./measurement.ts";

const AS_OF = "2026-05-01";
const WORKER = join(import.meta.dirname, "../../src/model-worker.ts");
const PAGE_ROUNDS = 9;

export async function fleetBench(vehicles = 10_000): Promise<Measurement[]> {
  const folder = mkdtempSync(join(tmpdir(), "fleet-bench-"));
  const sql = new NodeSql(join(folder, "records.sqlite"));
  const model = modelPool(WORKER);
  try {
    await migrate(sql);
    return await measured(sql, model, vehicles);
  } finally {
    await model.close();
    sql.close();
    rmSync(folder, { recursive: true });
  }
}

async function measured(sql: NodeSql, model: Model, vehicles: number): Promise<Measurement[]> {
  const found: Measurement[] = [];
  const full = vehicles >= 10_000;
  const note = async (name: string, value: number, unit: Measurement["unit"], most: number, result: unknown) => {
    found.push({ name, value, unit, most: full ? most : null, digest: (await contentHash(result)).slice(0, 12) });
  };
  const now = () => new Date(`${AS_OF}T12:00:00Z`);
  const even = seededRandom(99);
  const random = (bytes: number) => Uint8Array.from({ length: bytes }, () => Math.floor(256 * even()));
  const settings = { climate: "warm-continental", plan: { service: "shop" as const } };
  const workspaceId = await createWorkspace({ sql, now, random, settings });
  const store = workspaceStore({ sql, workspaceId, role: "owner", actor: "bench", now, random });

  const bytes = new TextEncoder().encode(fleetCsv({ vehicles, entries: 10, seed: 1, as_of: AS_OF }));
  const source = async function* () {
    for (let from = 0; from < bytes.length; from += 65_536) yield bytes.subarray(from, from + 65_536);
  };
  let start = performance.now();
  const seconds = () => (performance.now() - start) / 1000;
  const importOnce = async () => {
    const decoded = await decodedText(source);
    if (!decoded.ok) throw new Error(decoded.message);
    const survey = await surveyOf(decoded.text);
    const { mapping } = mappingOf(survey);
    const file = { name: "fleet.csv", text: decoded.text, survey, mapping };
    const reading = await readFleetFiles([file], await store.fleetImport.known(), { today: AS_OF, can_net_g: null });
    return { counts: await store.fleetImport.add(agreedVehicles(reading, new Set())), refused: reading.refused.length };
  };
  const imported = await importOnce();
  await note(
    `import of ${imported.counts.vehicles_added} vehicles, ${imported.counts.entries_added} entries`,
    seconds(),
    "s",
    20,
    imported,
  );
  let resident_mb = 0;
  const work = async (isUnderWay: () => Promise<unknown>) => {
    while ((await isUnderWay()) !== null) {
      await reckonSlice({ store, model }, sliceOf(model));
      resident_mb = Math.max(resident_mb, process.memoryUsage().rss / 1e6);
      await new Promise((resume) => setImmediate(resume));
    }
  };
  const reckon = async () => {
    await store.reckoning.begin(AS_OF, freshFrom(AS_OF));
    await work(() => store.reckoning.underWay());
  };
  const waits = monitorEventLoopDelay({ resolution: 5 });
  waits.enable();
  start = performance.now();
  const before = process.cpuUsage();
  await reckon();
  const reckoned_s = seconds();
  // Processor time: of all threads, whatever else this machine is doing.
  const { user, system } = process.cpuUsage(before);
  waits.disable();
  const rows = await store.fleet.list({ per_page: vehicles });
  const figures = rows.map(({ label, reckoned }) => [
    label,
    reckoned?.verdict,
    Math.round(reckoned?.leak_g_per_year ?? -1),
  ]);
  await note(`first reckoning, in ${model.side_by_side} threads`, reckoned_s, "s", 25, figures);
  await note("processor time of it", (user + system) / 1e6, "s", 50, null);
  await note("longest that another request waits meanwhile", waits.max / 1e6, "ms", 200, null);
  await note("memory while reckoning", resident_mb, "MB", 500, null);
  start = performance.now();
  await reckon();
  await note(
    "reckoning with nothing changed",
    seconds(),
    "s",
    5,
    await store.reckoning.run().then((run) => run?.answers),
  );

  start = performance.now();
  const before_predictions = process.cpuUsage();
  await work(() => store.predictions.underWay());
  const predicted = await store.predictions.all();
  const used = process.cpuUsage(before_predictions);
  await note(`${predicted.length} past charges predicted again`, seconds(), "s", 120, [
    predicted.length,
    predicted.filter(({ low_on }) => low_on !== null).length,
  ]);
  await note("processor time of that", (used.user + used.system) / 1e6, "s", 240, null);

  const readPage = () =>
    Promise.all([
      store.fleet.list({ sort: "cost_as_is", descending: true, page: 2 }),
      store.fleet.totals(),
      store.fleet.choices(),
      store.fleet.cohorts(),
      store.reckoning.due(freshFrom(AS_OF), AS_OF),
    ]);
  const [page, totals] = await readPage();
  const times: number[] = [];
  for (let round = 0; round < PAGE_ROUNDS; round++) {
    start = performance.now();
    await readPage();
    times.push(performance.now() - start);
  }
  await note("all that a page of the table reads, sorted, with totals", medianOf(times), "ms", 100, [
    page.map(({ label }) => label),
    totals.by_verdict,
  ]);

  const planned = rows.flatMap(({ id, reckoned }) =>
    reckoned === null ? [] : [{ id, options: reckoned.answer.options, as_is: reckoned.answer.as_is }],
  );
  const { least_outlay, unlimited } = planBudget(planned, { money: Infinity, work: null }, "cost");
  const budget = least_outlay.repair_outlay + 0.3 * (unlimited.repair_outlay - least_outlay.repair_outlay);
  start = performance.now();
  const plan = planBudget(planned, { money: budget, work: null }, "cost");
  await note("budget", seconds(), "s", 2, plan.choices.map(({ option }) => option.id).join());
  await note("gap of the budget plan to the bound", 100 * plan.gap_share, "%", 0.1, null);
  start = performance.now();
  const again = await importOnce();
  await note("the same file again", seconds(), "s", 20, again);
  return found;
}

if (import.meta.main) {
  for (const measurement of await fleetBench(Number(process.argv[2] ?? 10_000))) console.log(lineOf(measurement));
}
