import { afterAll, beforeAll } from "vitest";
import type { Runtime } from "./runtimes.ts";

/** The application on one runtime, for the tests of a `describe`: `const desk = new RuntimeDesk(start)`. */
export class RuntimeDesk {
  app!: Runtime;

  constructor(start: () => Promise<Runtime>) {
    beforeAll(async () => {
      this.app = await start();
    });
    afterAll(() => this.app.close());
  }

  async page(path: string): Promise<{ status: number; text: string }> {
    const answer = await this.app.request(path);
    return { status: answer.status, text: await answer.text() };
  }

  /** Posts a text as it is, as JSON unless another type is said. */
  send(path: string, body: string, content_type = "application/json"): Promise<Response> {
    return this.app.request(path, { method: "POST", headers: { "Content-Type": content_type }, body });
  }

  ask(path: string, question: unknown): Promise<Response> {
    return this.send(path, JSON.stringify(question));
  }
}
