import { type Context, Hono } from "hono";
import { LookAgainPage } from "../../../views/vehicles/look.tsx";
import { vehiclePath } from "../../../views/vehicles/record/record.ts";
import { contradictedLook, isLookOnly } from "../../core/leak/looks.ts";
import { Problem } from "../../core/problem.ts";
import { COOLING, type Cooling } from "../../core/question/contract.ts";
import type { ChargeLine } from "../../core/question/record.ts";
import { type GrantedEnv, requireRole } from "../edge/access.ts";
import type { AppEnv, Deps } from "../edge/deps.ts";
import { answerPage } from "../edge/page.ts";
import { formOf, newSubmitKey, submitKeyOf } from "../forms/posted-form.ts";
import { oneOf } from "../forms/typed-values.ts";
import { todayIn } from "../workspace.ts";
import { savedLine } from "./saved.ts";

/**
 * `POST /vehicles/:id/looks`: how it cools today, one press. A day has one look: the same again adds nothing, another
 * takes the place of the first. One that contradicts a look of the last days is asked about before it is stored.
 */
export function lookRoutes(deps: Deps) {
  return new Hono<AppEnv>().post("/vehicles/:id/looks", requireRole("editor"), async (c) => {
    const form = await formOf(c);
    const cooling = oneOf(COOLING, form.get("cooling") ?? "");
    if (cooling === undefined) throw new Problem("unreadable", "Choose how it cools today.");
    const id = c.req.param("id");
    const { store } = c.var;
    const { vehicle, workspace, charge_log } = await store.record(id);
    const today = todayIn(workspace, deps.now());

    const of_today = charge_log.findLast((entry) => entry.date === today && isLookOnly(entry));
    if (of_today?.cooling === cooling) return c.redirect(`${vehiclePath(id)}?saved=same`, 303);
    const against = contradictedLook(charge_log, cooling, today);
    if (against !== null && form.get("sure") !== "yes") return ask(c, { vehicle, against, cooling });
    const line = await (of_today === undefined
      ? store.chargeLog.add(id, { date: today, cooling }, submitKeyOf(form))
      : store.chargeLog.correct(of_today.id, of_today.version, { ...content(of_today), cooling }, submitKeyOf(form)));
    return c.redirect(savedLine("log", line), 303);
  });

  function ask(
    c: Context<AppEnv & GrantedEnv>,
    { vehicle, against, cooling }: { vehicle: { id: string; label: string }; against: ChargeLine; cooling: Cooling },
  ) {
    const submit_key = newSubmitKey(deps.random);
    return answerPage(c, LookAgainPage({ vehicle, against, cooling, submit_key, asset: deps.asset }), 409);
  }
}

/** What an entry says, without the head of its line. */
function content({
  date,
  date_within_days,
  dye,
  cooling_after,
  cans_opened,
  deposit,
  deposit_return_by,
  note,
}: ChargeLine) {
  return { date, date_within_days, dye, cooling_after, cans_opened, deposit, deposit_return_by, note };
}
