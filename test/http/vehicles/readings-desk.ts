import { expect } from "vitest";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { settingsOf } from "../../../src/store/workspaces.ts";
import { VAN } from "../../store/samples.ts";
import { EditorsDesk } from "../../support/links-desk.ts";
import { formIn, textOf } from "../../support/page-form.ts";

/** Low/low is undercharge: trade training text T-22/8. At 85 °F. */
export const LOW = { ambient: "85", low: "15", high: "120" };

/** The condenser gets no air. */
export const NO_AIR = { ambient: "85", low: "60", high: "380", fan: "stopped", more_air: "drops" };

/** Someone who takes readings of a van. */
export class ReadingsDesk extends EditorsDesk {
  async newVan(changes: Partial<typeof VAN> = {}) {
    const { id } = await this.store.vehicles.create({ ...VAN, ...changes });
    return { id, path: `/vehicles/${id}` };
  }

  async set(settings: Partial<Parameters<WorkspaceStore["settings"]["update"]>[0]>) {
    const workspace = await this.store.settings.get();
    await this.store.settings.update({ ...settingsOf(workspace), ...settings }, workspace.version);
  }

  /** The form of the page with these fields filled in. */
  async filled(page: string, fields: Record<string, string>, form_id = "record-form"): Promise<URLSearchParams> {
    const form = formIn(await this.editor.page(page), form_id);
    for (const [name, value] of Object.entries(fields)) form.set(name, value);
    return form;
  }

  async take(path: string, fields: Record<string, string>): Promise<string> {
    const answer = await this.editor.post(`${path}/readings`, await this.filled(`${path}/readings`, fields));
    expect(answer.status).toBe(303);
    const at = answer.headers.get("Location") ?? "";
    expect(at).toMatch(new RegExp(`^${path}/readings/[0-9a-z]{20}$`));
    return at;
  }
}

export const answerOf = (page: string) => textOf(/<div[^>]* id="answer"[\s\S]*?<\/h2>/.exec(page)?.[0] ?? "").trim();
