import { beforeEach } from "vitest";
import type { LinksApp } from "../../support/links-app.ts";
import { browser } from "../../support/links-app.ts";
import { LinksDesk } from "../../support/links-desk.ts";

/** The settings as their form sends them. */
export const FORM = {
  name: "Garage",
  mass_unit: "g",
  temperature_unit: "C",
  pressure_unit: "bar-gauge",
  currency: "EUR",
  place: "us-wi",
  climate: "hot-desert",
  means: "",
  time_zone: "Europe/Berlin",
};

/** An owner at the settings. */
export class SettingsDesk extends LinksDesk {
  /** What the owner's browser sends. */
  headers!: Record<string, string>;

  constructor(start: () => Promise<LinksApp>) {
    super(start);
    beforeEach(async () => {
      const { headers } = await browser(this.app, this.store, "owner");
      this.headers = { ...headers, "Sec-Fetch-Site": "same-origin" };
    });
  }

  async page(path: string): Promise<string> {
    return (await this.app.request(path, { headers: this.headers })).text();
  }

  post(path: string, form: Record<string, string>): Promise<Response> {
    return this.app.request(path, {
      method: "POST",
      headers: { ...this.headers, "Content-Type": "application/x-www-form-urlencoded" },
      body: String(new URLSearchParams(form)),
    });
  }
}
