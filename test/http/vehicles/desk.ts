import { expect } from "vitest";
import { VAN } from "../../store/samples.ts";
import { EditorsDesk } from "../../support/links-desk.ts";

/** Someone at a workspace who has a van with one entry in its log. */
export class Desk extends EditorsDesk {
  async vanWithEntry() {
    const { id } = await this.store.vehicles.create(VAN, {
      charge_log: [{ date: "2024-05-01", cooling: "weak", added_g: 340, added_by: "cans", note: "First." }],
    });
    const [entry] = await this.store.chargeLog.list(id);
    return { id, path: `/vehicles/${id}`, entry: entry!, entry_path: `/vehicles/${id}/log/${entry!.id}` };
  }
}

export function locationOf(answer: Response): URL {
  expect(answer.status).toBe(303);
  return new URL(answer.headers.get("Location") ?? "", "http://localhost");
}
