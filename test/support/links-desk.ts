import { afterAll, beforeAll, beforeEach } from "vitest";
import type { Role } from "../../src/store/roles.ts";
import type { WorkspaceStore } from "../../src/store/workspace-store.ts";
import { newStore } from "../store/engines.ts";
import { browser, type LinksApp } from "./links-app.ts";
import { Person } from "./person.ts";

/** The application, and a workspace that is new for each test of the `describe`: `new LinksDesk(start)`. */
export class LinksDesk {
  app!: LinksApp;
  store!: WorkspaceStore;

  constructor(start: () => Promise<LinksApp>) {
    beforeAll(async () => {
      this.app = await start();
    });
    afterAll(() => this.app.close());
    beforeEach(async () => {
      this.store = await newStore(this.app.sql);
    });
  }

  async as(role: Role, of = this.store): Promise<Person> {
    return new Person(this.app, (await browser(this.app, of, role)).headers);
  }
}

/** The same with someone who may change the records. */
export class EditorsDesk extends LinksDesk {
  editor!: Person;

  constructor(start: () => Promise<LinksApp>) {
    super(start);
    beforeEach(async () => {
      this.editor = await this.as("editor");
    });
  }
}
