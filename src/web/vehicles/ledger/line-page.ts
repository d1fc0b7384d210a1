import type { Context } from "hono";
import type { FieldError } from "../../../../views/parts/error-summary.tsx";
import { messagesOf } from "../../../../views/parts/field.tsx";
import { LinePage, type LinePageProps } from "../../../../views/vehicles/record/line-page.tsx";
import { WAITED } from "../../../../views/words/on-device.ts";
import type { Line } from "../../../core/question/record.ts";
import { type Conflict, notFound } from "../../../store/errors.ts";
import { mayAct } from "../../../store/roles.ts";
import type { GrantedEnv } from "../../edge/access.ts";
import type { Deps } from "../../edge/deps.ts";
import { answerPage } from "../../edge/page.ts";
import { newSubmitKey, submitKeyOf } from "../../forms/posted-form.ts";
import { aboutVehicle } from "../about.ts";
import type { LedgerPages } from "./ledgers.ts";

/** What the handlers of a ledger's addresses are given: whose lines, and how they are read and shown. */
export interface LedgerDesk<Fields, Content extends object, Input extends object> {
  deps: Deps;
  pages: LedgerPages<Fields, Content, Input>;
}

/** What is in the form of a page about a line, beside the line itself. */
interface Filled<Fields, Content> {
  fields?: Fields;
  errors?: readonly FieldError[];
  /** The submit key of a form that comes back to be put right; a new one unless given. */
  submit_key?: string | null;
  /** The version that someone else saved first. */
  conflict?: Conflict<Line<Content>>;
}

/** GET `/vehicles/:id/…/new`: the form for a new line. */
export async function answerNew<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
  filled: Filled<Fields, Content> = {},
): Promise<Response> {
  const about = await aboutVehicle(c.var.store, param(c, "id"), desk.deps.now());
  const query = new URL(c.req.url).searchParams;
  const fields = filled.fields ?? desk.pages.blank(query, about.about);
  return answerForm(c, desk, { submit_key: waitedUnder(query), ...filled }, { ...about, fields, lines: [] });
}

/**
 * The key under which an entry waited on its device, so that the device can tell it has arrived; null for any other.
 */
function waitedUnder(query: URLSearchParams): string | null {
  const key = query.get(WAITED);
  return key === null ? null : submitKeyOf(new URLSearchParams({ submit_key: key }));
}

/** GET `/vehicles/:id/…/:line`: a stored line in its form, with what was written before. */
export async function answerLine<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  desk: LedgerDesk<Fields, Content, Input>,
  filled: Filled<Fields, Content> = {},
): Promise<Response> {
  const [lines, about] = await Promise.all([
    linesOf(c, desk),
    aboutVehicle(c.var.store, param(c, "id"), desk.deps.now()),
  ]);
  const fields = filled.fields ?? desk.pages.typed(lines.at(-1)!, about.about);
  return answerForm(c, desk, filled, { ...about, fields, lines: lines.toReversed() });
}

/** All versions of the line in the address. Throws `Problem` not-found when it belongs to another vehicle. */
export async function linesOf<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  { pages }: LedgerDesk<Fields, Content, Input>,
): Promise<Line<Content>[]> {
  const lines = await pages.of(c.var.store).versions(param(c, "line"));
  if (lines[0]!.vehicle_id !== param(c, "id")) throw notFound("entry of this vehicle");
  return lines;
}

/** A parameter of the route's path. */
export function param(c: Context, name: "id" | "line"): string {
  return c.req.param(name)!;
}

type FormContent<Fields, Content> = Awaited<ReturnType<typeof aboutVehicle>> & {
  fields: Fields;
  /** Newest first. */
  lines: readonly Line<Content>[];
};

function answerForm<Fields, Content extends object, Input extends object>(
  c: Context<GrantedEnv>,
  { deps, pages }: LedgerDesk<Fields, Content, Input>,
  { errors = [], conflict, submit_key }: Filled<Fields, Content>,
  { vehicle, workspace, about, fields, lines }: FormContent<Fields, Content>,
): Promise<Response> {
  const shown = (line: Line<Content>) => ({ line, said: pages.said(line, about) });
  const messages = messagesOf(errors);
  const props: LinePageProps = {
    vehicle,
    ledger: pages.name,
    form: mayAct(c.var.access.role, "editor") ? pages.form(fields, messages, about) : null,
    ...pages.around?.(lines[0] ?? null, about),
    errors,
    submit_key: submit_key ?? newSubmitKey(deps.random),
    lines: lines.map(shown),
    conflict: conflict === undefined ? null : { message: conflict.message, current: shown(conflict.current) },
    time_zone: workspace.time_zone,
    asset: deps.asset,
  };
  return answerPage(c, LinePage(props), conflict !== undefined ? 409 : errors.length > 0 ? 422 : 200);
}
