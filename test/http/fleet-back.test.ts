import { expect, test } from "vitest";
import { newStore } from "../store/engines.ts";
import { browser, linksOnNode, SAME_ORIGIN } from "../support/links-app.ts";

test.each([
  "/fleet/\r\nSet-Cookie: a=b",
  "//elsewhere.example/fleet/",
  "https://elsewhere.example/fleet/",
  "/fleet/../../access",
  "/\\elsewhere.example",
])("settling repairs leads back within the fleet, whatever stands in %j", async (back) => {
  const app = await linksOnNode();
  const { headers } = await browser(app, await newStore(app.sql), "editor");
  const sent = await app.request("/fleet/locks", {
    method: "POST",
    headers: { ...headers, ...SAME_ORIGIN.headers, "Content-Type": "application/x-www-form-urlencoded" },
    body: new URLSearchParams({ back }).toString(),
  });
  expect(sent.status).toBe(303);
  const to = new URL(sent.headers.get("Location")!, "https://seepwise.example/fleet/locks");
  expect([to.origin, to.pathname.startsWith("/fleet/")]).toEqual(["https://seepwise.example", true]);
  expect(sent.headers.get("Set-Cookie")).toBeNull();
  await app.close();
});
