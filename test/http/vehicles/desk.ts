import { afterAll, beforeAll, beforeEach, expect } from "vitest";
import type { Role } from "../../../src/store/roles.ts";
import type { WorkspaceStore } from "../../../src/store/workspace-store.ts";
import { newStore } from "../../store/engines.ts";
import { VAN } from "../../store/samples.ts";
import { browser, type LinksApp } from "../../support/links-app.ts";
import { Person } from "../../support/person.ts";

/** Someone who may change the records of a workspace that is new for each test of the `describe` it stands in. */
export class Desk {
  app!: LinksApp;
  store!: WorkspaceStore;
  editor!: Person;

  constructor(start: () => Promise<LinksApp>) {
    beforeAll(async () => {
      this.app = await start();
    });
    afterAll(() => this.app.close());
    beforeEach(async () => {
      this.store = await newStore(this.app.sql);
      this.editor = await this.as("editor");
    });
  }

  async as(role: Role): Promise<Person> {
    return new Person(this.app, (await browser(this.app, this.store, role)).headers);
  }

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
