import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { type ClockApp, clockApp } from "../support/clock-app.ts";
import { type RunningServer, startServer } from "../support/server.ts";
import { launchChromium } from "./support.ts";

/** Chromium and the built application with no records, for the tests of a file: `const at = new BuiltServer()`. */
export class BuiltServer {
  browser!: Browser;
  server!: RunningServer;

  constructor() {
    beforeAll(async () => {
      [this.browser, this.server] = await Promise.all([launchChromium(), startServer()]);
    });
    afterAll(async () => {
      await this.browser.close();
      await this.server.stop();
    });
  }
}

/** Chromium and the application with a clock that can be set, for the tests of a file. */
export class SetClock {
  browser!: Browser;
  app!: ClockApp;

  constructor(instant: string) {
    beforeAll(async () => {
      [this.browser, this.app] = await Promise.all([launchChromium(), clockApp(instant)]);
    });
    afterAll(async () => {
      await this.browser.close();
      await this.app.close();
    });
  }
}
