import { describe, expect, test } from "vitest";
import { createApp } from "../../src/app.ts";
import { addressesOf, nearestPage } from "../../src/web/edge/nearest-page.ts";
import { testDeps } from "../support/deps.ts";

/** A form that was refused stands at the address that it was sent to; loading that page again must lead to the form. */
describe("the address of a form, looked at", () => {
  const app = createApp(testDeps());
  const of = (method: string) => app.routes.filter((route) => route.method === method).map(({ path }) => path);
  const pages = of("GET");
  const forms = of("POST").filter((path) => !path.startsWith("/api/") && !pages.includes(path));

  test("there are such addresses", () => {
    expect(forms).toContain("/vehicles/:id/quotes/:quote/send");
  });

  test.each(forms)("%s leads to a page above it", async (path) => {
    const address = path.replaceAll(/:\w+/g, "x1");
    const answer = await app.request(address, { headers: { Accept: "text/html" } });
    const to = answer.headers.get("Location") ?? "";
    expect([answer.status, address.startsWith(to)]).toEqual([303, true]);
    expect(pages.some((page) => page.replaceAll(/:\w+/g, "x1") === to)).toBe(true);
  });

  test("a program is still told that the method is wrong", async () => {
    expect((await app.request("/api/assess")).status).toBe(405);
  });
});

test.each([
  ["/vehicles/a/quotes/b/options/c/lines/2/removal", "/vehicles/a/quotes/b"],
  ["/vehicles/a/looks", "/vehicles/a"],
  ["/vehicles/examples/removal", "/vehicles"],
  ["/leave", "/"],
  ["/vehicles/a", null],
  ["/nothing/here", null],
])("nearestPage of %s is %s", (path, above) => {
  const forms = ["/leave", "/vehicles/:id/looks", "/vehicles/examples", "/vehicles/examples/removal"];
  const removal = "/vehicles/:id/quotes/:quote/options/:option/lines/:n/removal";
  const pages = ["/", "/vehicles", "/vehicles/:id", "/vehicles/:id/quotes/:quote"];
  expect(nearestPage(path, addressesOf({ pages, forms: [...forms, removal] }))).toBe(above);
});
