import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { StartPage } from "../../../views/start/page.tsx";
import type { QuickFields } from "../../../views/start/quick-fields.ts";
import { WayBackPage } from "../../../views/vehicles/way-back-page.tsx";
import type { AssessRequest } from "../../core/question/contract.ts";
import { MAX_LABEL_CHARS, NEW_VEHICLE, type VehicleInput } from "../../core/question/record.ts";
import type { PriceTerms } from "../../core/quotes/price-terms.ts";
import { Conflict, forbidden } from "../../store/errors.ts";
import { mayAct } from "../../store/roles.ts";
import type { WorkspaceStore } from "../../store/workspace-store.ts";
import type { Settings, Workspace } from "../../store/workspaces.ts";
import { openWorkspace } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { readWords } from "../forms/form-reading.ts";
import { formOf, newSubmitKey, submitKeyOf } from "../forms/posted-form.ts";
import { fieldsOfAddress } from "../start/quick-address.ts";
import { readQuickForm } from "../start/quick-form.ts";
import { startProps } from "../start/routes.ts";
import { termsOfVisitor } from "../visitor-terms.ts";
import { addressOfWhatIf } from "./what-if-answer.ts";

/**
 * `POST /vehicles`: keeps the quick question as a vehicle with a charge log. Someone without access begins records of
 * their own with it. What cannot be kept is given back as it was typed, on the start page.
 */
export function keepRoutes(deps: Deps) {
  return new Hono<AppEnv>().post("/vehicles", async (c) => {
    const form = await formOf(c);
    const today = deps.today(c);
    const { terms } = await termsOfVisitor(c, deps);
    const fields = fieldsOfAddress(form, today, terms);
    const { errors, request } = readQuickForm(fields, true, { exact: true, terms });
    const label = readWords(fields.label, MAX_LABEL_CHARS);
    if ("message" in label) return giveBack(c, [...errors, { field: "label", message: label.message }]);
    if (request === null) return giveBack(c, errors);

    const { store, way_back } = await storeFor(c, deps, fields);
    const { id } = await keep(store, terms, fields, request, label.words, submitKeyOf(form));
    const { place, quote } = fields;
    const onward = addressOfWhatIf(id, { place, quote });
    if (way_back === null) return c.redirect(`${onward}${onward.includes("?") ? "&" : "?"}saved=kept`, 303);
    c.header("Cache-Control", "no-store");
    const vehicle = await store.vehicles.get(id);
    const link = `${deps.origin(c)}/access/${way_back}`;
    return answerPage(c, WayBackPage({ vehicle, onward, way_back: link, asset: deps.asset }), 201);

    async function giveBack(c: Context, errors: readonly FieldError[]) {
      form.set("go", "1");
      const asked = await startProps(form, today, deps.model, terms);
      const props = { ...asked, errors, may_keep: true, submit_key: newSubmitKey(deps.random), asset: deps.asset };
      return answerPage(c, StartPage(props), 422);
    }
  });
}

/** The records of the one who asks; those of someone new are made, with the key of a link that leads back to them. */
async function storeFor(
  c: Context<AppEnv>,
  deps: Deps,
  fields: QuickFields,
): Promise<{ store: WorkspaceStore; way_back: string | null }> {
  const { visit } = c.var;
  const access = await visit.access();
  if (access === null) {
    const settings = { time_zone: deps.timeZone(c), ...settingsIn(fields) };
    const opened = await openWorkspace(c, deps, settings);
    return { store: visit.store(opened.access), way_back: opened.way_back };
  }
  if (!mayAct(access.role, "editor")) throw forbidden(access.role, "editor");
  return { store: visit.store(access), way_back: null };
}

async function keep(
  store: WorkspaceStore,
  terms: PriceTerms,
  fields: QuickFields,
  request: AssessRequest,
  label: string | null,
  submit_key: string | null,
) {
  const [workspace, in_use, archived] = await Promise.all([
    store.settings.get(),
    store.vehicles.count(),
    store.vehicles.count({ archived: true }),
  ]);
  if (in_use + archived === 0) await takeSettings(store, workspace, fields);
  const vehicle: VehicleInput = {
    ...NEW_VEHICLE,
    label: label ?? `Vehicle ${in_use + archived + 1}`,
    refrigerant: request.vehicle.refrigerant,
    nameplate_g: request.vehicle.nameplate_g,
    electric_compressor: fields.electric === "yes",
    climate: fields.climate === "" ? null : fields.climate,
    plan: planOf(request),
    // Amounts of the plan were typed in the currency of the answer.
    prices: terms.wanted === null ? {} : { currency: terms.currency },
  };
  return store.vehicles.create(vehicle, { charge_log: request.log ?? [] }, submit_key);
}

/** The typed plan. A supposed place or quote is not stored: it goes along in the address. */
function planOf({ plan }: AssessRequest): VehicleInput["plan"] {
  return Object.fromEntries(Object.entries(plan ?? {}).filter(([, said]) => said != null));
}

/** The first vehicle of records that nobody has set up brings its units and its place along. */
async function takeSettings(store: WorkspaceStore, workspace: Workspace, fields: QuickFields): Promise<void> {
  const said = settingsIn(fields);
  if (workspace.version !== 1 || Object.keys(said).length === 0) return;
  try {
    await store.settings.update({ ...workspace, ...said }, workspace.version);
  } catch (error) {
    // Someone else has just changed the settings: theirs stay.
    if (!(error instanceof Conflict)) throw error;
  }
}

function settingsIn({ units, where }: QuickFields): Partial<Settings> {
  return {
    ...(units === "metric" ? { mass_unit: "g", temperature_unit: "C", pressure_unit: "kPa-gauge" } : {}),
    ...(where === "elsewhere" ? {} : { place: where }),
  };
}
