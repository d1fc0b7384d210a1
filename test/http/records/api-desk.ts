import { beforeEach } from "vitest";
import type { Issue } from "../../../src/core/problem.ts";
import { bearer, type LinksApp } from "../../support/links-app.ts";
import { LinksDesk } from "../../support/links-desk.ts";

export const VAN = { label: "Van 2", refrigerant: "R-134a", nameplate_g: 650 };

export const CAN = { date: "2026-04-20", cooling: "weak", added_g: 340, added_by: "cans" };

export const DYE_CLEAN = { date: "2026-04-25", test: "dye", location: "anywhere", result: "clean" };

/** What an answer may have in it; which of it is there, the tests say. */
interface Body {
  id: string;
  label: string;
  version: number;
  body: string;
  archived_at: string | null;
  items: Body[];
  next: string;
  not_offered_because: string | null;
  offered: boolean;
  options: Body[];
  error: { message: string; issues: Issue[] };
}

interface Told {
  status: number;
  headers: Headers;
  body: Body;
}

/** A program with an editor's key. */
export class ApiDesk extends LinksDesk {
  /** The headers that carry the key. */
  key!: Record<string, string>;

  constructor(start: () => Promise<LinksApp>) {
    super(start);
    beforeEach(async () => {
      this.key = (await bearer(this.store, "editor")).headers;
    });
  }

  async ask(method: string, path: string, body?: unknown, headers: Record<string, string> = {}): Promise<Told> {
    const answer = await this.app.request(path, {
      method,
      headers: { ...this.key, ...(body === undefined ? {} : { "Content-Type": "application/json" }), ...headers },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    return { status: answer.status, headers: answer.headers, body: (await answer.json()) as Body };
  }

  get(path: string): Promise<Told> {
    return this.ask("GET", path);
  }

  post(path: string, body: unknown, headers = {}): Promise<Told> {
    return this.ask("POST", path, body, headers);
  }

  async newVan(changes: object = {}): Promise<Body> {
    return (await this.post("/api/vehicles", { ...VAN, ...changes })).body;
  }
}
