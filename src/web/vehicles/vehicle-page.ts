import { type Context, Hono } from "hono";
import { outcomeOf } from "../../../views/answer/outcome.ts";
import type { ShownFinding } from "../../../views/vehicles/record/findings.tsx";
import { SensitivityFragment, SensitivityPage } from "../../../views/vehicles/sensitivity.tsx";
import { VehicleAnswerFragment, VehiclePage, type VehiclePageProps } from "../../../views/vehicles/vehicle-page.tsx";
import { beliefSteps } from "../../core/leak/belief-steps.ts";
import type { AssessRequest } from "../../core/question/contract.ts";
import { questionOf } from "../../core/question/question.ts";
import { mayAct } from "../../store/roles.ts";
import { termsOf, type VehicleRecord } from "../../store/vehicle-record.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { keepInHistory } from "../edge/keep-in-history.ts";
import { addressOf, ownPages } from "../edge/kept-pages.ts";
import { answerPage, pageText } from "../edge/page.ts";
import { personOf } from "../edge/person.ts";
import { wantsFragment } from "../edge/wants-fragment.ts";
import { newSubmitKey } from "../forms/posted-form.ts";
import { pastPredictions } from "../past-predictions.ts";
import { listedQuotes } from "../quotes/listed.ts";
import { vehicleSurroundings } from "../vehicle-answer.ts";
import { gaugesOf, todayIn, unitsOf } from "../workspace.ts";
import { briefAnswer, wholeAnswer } from "./brief-answer.ts";
import { shownReadings } from "./readings.ts";
import { savedOf } from "./saved.ts";
import { addressOfWhatIf, whatIfQuestion } from "./what-if-answer.ts";

type GrantedContext = Context<AppEnv & GrantedEnv>;

/** `GET /vehicles/:id`: the answer and the whole record; what is supposed beside it stands in the address. */
export function vehiclePageRoutes(deps: Deps) {
  const app = new Hono<AppEnv>();

  app.get("/vehicles/:id", requireRole("viewer"), async (c) => {
    const id = c.req.param("id");
    const { search, searchParams } = new URL(c.req.url);
    const newKey = () => newSubmitKey(deps.random);
    if (wantsFragment(c)) {
      const props = await pageProps(c, deps, id, newKey(), searchParams);
      keepInHistory(c, props.addressWith({}));
      return c.html(VehicleAnswerFragment(props), props.errors.length > 0 ? 422 : 200);
    }
    if (search === "") {
      const { stamp, today } = await stampOf(c.var.store, id, deps.now());
      const key = `${c.var.store.workspaceId}/${c.var.access.role}/${personOf(c)}${addressOf(c)}`;
      return ownPages(deps, c).answer(c, { key, stamp: `${stamp}/${today}`, newKey }, async (submit_key) => {
        const text = await rendered(c, deps, await pageProps(c, deps, id, submit_key, searchParams));
        return { text, status: 200 };
      });
    }
    const props = await pageProps(c, deps, id, newKey(), searchParams);
    return c.html(await rendered(c, deps, props), props.errors.length > 0 ? 422 : 200);
  });

  app.get("/vehicles/:id/sensitivity", requireRole("viewer"), async (c) => {
    const id = c.req.param("id");
    const record = await c.var.store.record(id);
    const { request, supposed } = whatIfQuestion(
      record,
      todayIn(record.workspace, deps.now()),
      new URL(c.req.url).searchParams,
    );
    const back = addressOfWhatIf(id, supposed);
    if (request === null) return c.redirect(back, 303);
    const answer = await wholeAnswer(deps.model, c.var.store, id, request);
    const outcome = outcomeOf(request, answer, unitsOf(record.workspace), vehicleSurroundings(record, request));
    if (wantsFragment(c)) return c.html(SensitivityFragment({ outcome }));
    const page = SensitivityPage({ vehicle: record.vehicle, outcome, back, asset: deps.asset });
    return answerPage(c, page);
  });
  return app;
}

async function stampOf(store: WorkspaceStore, vehicle_id: string, now: Date) {
  const { stamp, time_zone } = await store.recordStamp(vehicle_id);
  return { stamp, today: todayIn({ time_zone }, now) };
}

async function rendered(c: Context, deps: Deps, props: VehiclePageProps): Promise<string> {
  return pageText(VehiclePage({ ...props, asset: deps.asset }), personOf(c));
}

/** Everything that the page shows, under what `query` supposes. */
async function pageProps(
  c: GrantedContext,
  deps: Deps,
  vehicle_id: string,
  submit_key: string,
  query: URLSearchParams,
): Promise<VehiclePageProps> {
  const { store, access } = c.var;
  const record = await store.record(vehicle_id);
  const { vehicle, workspace } = record;
  const units = unitsOf(workspace);
  const today = todayIn(workspace, deps.now());
  const { fields, supposed, errors, recorded, request } = whatIfQuestion(record, today, query);
  const [answer, quotes, group, predictions] = await Promise.all([
    briefAnswer(deps.model, store, vehicle_id, request ?? recorded),
    store.quotes.list(vehicle_id),
    store.fleet.groupSays(vehicle_id),
    pastPredictions(deps, store, record, today),
  ]);
  const said = query.get("saved");
  return {
    vehicle,
    units,
    currency: termsOf(record).currency,
    outcome: request === null ? null : outcomeOf(request, answer, units, vehicleSurroundings(record, request)),
    leak: answer.leak,
    what_if: fields,
    supposed,
    errors,
    addressWith: (changes) => addressOfWhatIf(vehicle_id, { ...supposed, ...changes }),
    may_edit: mayAct(access.role, "editor"),
    submit_key,
    today,
    entries: record.charge_log,
    // What is supposed changes neither the leak nor what the tests said.
    findings: shownFindings(record, recorded, answer.leak.g_per_year.mean),
    readings: shownReadings(record, today),
    gauges: gaugesOf(workspace),
    notes: record.notes,
    quotes: listedQuotes(quotes, today, workspace.time_zone),
    group,
    predictions,
    saved: said === null ? null : await savedOf(store, vehicle_id, said),
    time_zone: workspace.time_zone,
  };
}

/** Findings newest first; those that count, with the belief before and after. */
function shownFindings({ findings }: VehicleRecord, request: AssessRequest, k_g: number): ShownFinding[] {
  const asked = request.findings ?? [];
  const counted = findings.filter(({ date }) => date <= request.as_of).slice(-asked.length);
  const steps = new Map(beliefSteps(questionOf(request), k_g).map((step) => [step.finding, step]));
  const beliefs = new Map(counted.map(({ id }, i) => [id, steps.get(asked[i]!) ?? null]));
  return findings.map((line) => ({ line, belief: beliefs.get(line.id) ?? null })).toReversed();
}
