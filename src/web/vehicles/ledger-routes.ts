import { type Context, Hono } from "hono";
import type { FieldError } from "../../../views/parts/error-summary.tsx";
import { HistoryPage } from "../../../views/vehicles/record/history-page.tsx";
import { LinePage, type LinePageProps } from "../../../views/vehicles/record/line-page.tsx";
import { vehiclePath } from "../../../views/vehicles/record/record.ts";
import { Conflict, notFound } from "../../store/errors.ts";
import type { Line } from "../../store/ledger.ts";
import { mayAct } from "../../store/roles.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf, versionOf } from "../forms/posted-form.ts";
import { aboutVehicle } from "./about.ts";
import type { LedgerPages } from "./ledgers.ts";
import { savedLine } from "./saved.ts";

type GrantedContext = Context<AppEnv & GrantedEnv>;

/** What is in the form of a page about a line, beside the line itself. */
interface Filled<Fields> {
  fields?: Fields;
  errors?: readonly FieldError[];
  conflict?: Conflict<Line<object>>;
}

/**
 * The pages of one ledger of a vehicle: a form for a new line, a form for each stored one with what was written before,
 * every change, and what their buttons do. A change that was overtaken is answered 409, with both versions and what was
 * typed, which can then be sent again.
 */
export function ledgerRoutes<Fields, Content extends object, Input extends object>(
  deps: Deps,
  pages: LedgerPages<Fields, Content, Input>,
) {
  const { name, of } = pages;
  const app = new Hono<AppEnv>();

  app.get(`/vehicles/:id/${name}/new`, requireRole("editor"), async (c) => {
    return showNew(c, 200, {});
  });
  app.get(`/vehicles/:id/${name}/history`, requireRole("viewer"), async (c) => {
    return showHistory(c);
  });
  app.get(`/vehicles/:id/${name}/:line`, requireRole(pages.looks ?? "editor"), async (c) => {
    return showLine(c, 200, {});
  });

  app.post(`/vehicles/:id/${name}`, requireRole("editor"), async (c) => {
    const form = await formOf(c);
    const fields = pages.fields(form);
    const { vehicle, about } = await aboutVehicle(c.var.store, param(c, "id"), deps.now());
    const read = pages.read(fields, about);
    if (!read.ok) return showNew(c, 422, { fields, errors: read.errors });
    return overtaken(
      async () => saved(c, await of(c.var.store).add(vehicle.id, read.input, submitKeyOf(form))),
      (conflict) => showNew(c, 409, { fields, conflict }),
    );
  });
  app.post(`/vehicles/:id/${name}/:line/corrections`, requireRole("editor"), async (c) => {
    const form = await formOf(c);
    const fields = pages.fields(form);
    await linesOf(c);
    const { about } = await aboutVehicle(c.var.store, param(c, "id"), deps.now());
    const read = pages.read(fields, about);
    if (!read.ok) return showLine(c, 422, { fields, errors: read.errors });
    const version = versionOf(form);
    return overtaken(
      async () =>
        saved(c, await of(c.var.store).correct(param(c, "line"), version, read.input, submitKeyOf(form)), version),
      (conflict) => showLine(c, 409, { fields, conflict }),
    );
  });
  app.post(`/vehicles/:id/${name}/:line/removals`, requireRole("editor"), async (c) => {
    const form = await formOf(c);
    await linesOf(c);
    return overtaken(
      async () => saved(c, await of(c.var.store).remove(param(c, "line"), versionOf(form), submitKeyOf(form))),
      (conflict) => showLine(c, 409, { conflict }),
    );
  });
  app.post(`/vehicles/:id/${name}/:line/undos`, requireRole("editor"), async (c) => {
    const form = await formOf(c);
    await linesOf(c);
    return overtaken(
      async () => saved(c, await of(c.var.store).undo(param(c, "line"), versionOf(form), submitKeyOf(form))),
      (conflict) => showLine(c, 409, { conflict }),
    );
  });
  return app;

  /** A correction that says the same is not stored, and must not be offered to be undone. */
  function saved(c: GrantedContext, line: Line<Content>, seen?: number) {
    if (pages.stored !== undefined) return c.redirect(pages.stored(line), 303);
    return c.redirect(line.version === seen ? vehiclePath(line.vehicle_id) : savedLine(name, line), 303);
  }

  async function showNew(c: GrantedContext, status: 200 | 409 | 422, filled: Filled<Fields>) {
    const { vehicle, workspace, about } = await aboutVehicle(c.var.store, param(c, "id"), deps.now());
    const fields = filled.fields ?? pages.blank(new URL(c.req.url).searchParams, about);
    return page(c, status, filled, { vehicle, time_zone: workspace.time_zone, about, fields, lines: [] });
  }

  async function showLine(c: GrantedContext, status: 200 | 409 | 422, filled: Filled<Fields>) {
    const [lines, { vehicle, workspace, about }] = await Promise.all([
      linesOf(c),
      aboutVehicle(c.var.store, param(c, "id"), deps.now()),
    ]);
    const fields = filled.fields ?? pages.typed(lines.at(-1)!, about);
    return page(c, status, filled, {
      vehicle,
      time_zone: workspace.time_zone,
      about,
      fields,
      lines: lines.toReversed(),
    });
  }

  function page(
    c: GrantedContext,
    status: 200 | 409 | 422,
    { errors = [], conflict }: Filled<Fields>,
    { vehicle, time_zone, about, fields, lines }: PageContent<Fields, Content>,
  ) {
    const shown = (line: Line<Content>) => ({ line, said: pages.said(line, about) });
    const props: LinePageProps = {
      vehicle,
      ledger: name,
      form: mayAct(c.var.access.role, "editor")
        ? pages.form(fields, new Map(errors.map(({ field, message }) => [field, message])), about)
        : null,
      ...pages.around?.(lines[0] ?? null, about),
      errors,
      submit_key: newSubmitKey(deps.random),
      lines: lines.map(shown),
      conflict:
        conflict === undefined
          ? null
          : { message: conflict.message, current: shown(conflict.current as Line<Content>) },
      time_zone,
      asset: deps.asset,
    };
    return answerPage(c, LinePage(props), status);
  }

  async function showHistory(c: GrantedContext) {
    const id = param(c, "id");
    const { vehicle, workspace, about } = await aboutVehicle(c.var.store, id, deps.now());
    const { items, next } = await of(c.var.store).history(id, { limit: 100, after: c.req.query("after") ?? null });
    const props = {
      vehicle,
      ledger: name,
      lines: items.map((line) => ({ line, said: pages.said(line, about) })),
      older: next === null ? null : `${vehiclePath(id, name, "history")}?${new URLSearchParams({ after: next })}`,
      time_zone: workspace.time_zone,
      asset: deps.asset,
    };
    return answerPage(c, HistoryPage(props));
  }

  /** All versions of the line in the address. Throws `Problem` not-found when it belongs to another vehicle. */
  async function linesOf(c: GrantedContext): Promise<Line<Content>[]> {
    const lines = await of(c.var.store).versions(param(c, "line"));
    if (lines[0]!.vehicle_id !== param(c, "id")) throw notFound("entry of this vehicle");
    return lines;
  }
}

interface PageContent<Fields, Content> {
  vehicle: LinePageProps["vehicle"];
  time_zone: string;
  about: Awaited<ReturnType<typeof aboutVehicle>>["about"];
  fields: Fields;
  /** Newest first. */
  lines: readonly Line<Content>[];
}

/** Makes a change, or answers what to do when someone else made one first. */
async function overtaken(
  change: () => Promise<Response>,
  answer: (conflict: Conflict<Line<object>>) => Promise<Response>,
): Promise<Response> {
  try {
    return await change();
  } catch (error) {
    if (error instanceof Conflict) return answer(error);
    throw error;
  }
}

/** A part of the address that the route's path names. */
function param(c: Context, name: "id" | "line"): string {
  return c.req.param(name)!;
}
