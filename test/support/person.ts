import { expect } from "vitest";
import type { LinksApp } from "./links-app.ts";

type Fields = URLSearchParams | Record<string, string>;
type Headers = Record<string, string>;

/** A person at the application: a browser with its cookie, or someone without. */
export class Person {
  readonly #app: LinksApp;
  readonly #headers: Headers;

  constructor(app: LinksApp, headers: Headers = {}) {
    this.#app = app;
    this.#headers = headers;
  }

  get(path: string, headers: Headers = {}): Promise<Response> {
    return this.#app.request(path, { headers: { ...this.#headers, ...headers } });
  }

  async page(path: string): Promise<string> {
    const answer = await this.get(path);
    expect(answer.status, path).toBe(200);
    return answer.text();
  }

  post(path: string, fields: Fields = {}): Promise<Response> {
    return this.#app.request(path, {
      method: "POST",
      headers: {
        ...this.#headers,
        "Sec-Fetch-Site": "same-origin",
        "Content-Type": "application/x-www-form-urlencoded",
      },
      body: new URLSearchParams(fields).toString(),
    });
  }

  /** A form with a file in it. */
  async postFile(path: string, form: FormData): Promise<Response> {
    const whole = new Request("http://localhost", { method: "POST", body: form });
    return this.#app.request(path, {
      method: "POST",
      headers: {
        ...this.#headers,
        "Sec-Fetch-Site": "same-origin",
        "Content-Type": whole.headers.get("Content-Type") ?? "",
      },
      body: new Uint8Array(await whole.arrayBuffer()),
    });
  }
}
