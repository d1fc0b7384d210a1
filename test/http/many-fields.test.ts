import { describe, expect, test } from "vitest";
import { linksOnNode } from "../support/links-app.ts";
import { formIn } from "../support/page-form.ts";
import { Person } from "../support/person.ts";
import { ShopDesk } from "./quotes/shop-desk.ts";

/** Whoever repeats a field thousands of times gets no page of thousands of lines back. */

const LINES = 20_000;

/** Several times what the page has with as many lines as are allowed. */
const MOST_BYTES = 4_000_000;

function repeated(name: string, times: number): URLSearchParams {
  const fields = new URLSearchParams({ refrigerant: "R-134a", nameplate: "23 oz", go: "1" });
  for (let i = 0; i < times; i += 1) fields.append(name, "1");
  return fields;
}

describe("a field that is repeated thousands of times", () => {
  const desk = new ShopDesk(() => linksOnNode());

  test.each(["when", "did", "amount", "cooled"])("%s, in the question's address", async (name) => {
    const answer = await new Person(desk.app).get(`/?${repeated(name, LINES)}`);
    const page = await answer.text();
    expect(answer.status).toBeLessThan(500);
    expect((page.match(/ id="when-\d+"/g) ?? []).length).toBeLessThanOrEqual(200);
    expect(page.length).toBeLessThan(MOST_BYTES);
  });

  test("when, in a vehicle that is to be saved", async () => {
    const answer = await desk.editor.post("/vehicles", repeated("when", LINES));
    const page = await answer.text();
    expect(answer.status).toBe(422);
    expect((page.match(/ id="when-\d+"/g) ?? []).length).toBeLessThanOrEqual(200);
    expect(page.length).toBeLessThan(MOST_BYTES);
    expect(await desk.store.vehicles.count()).toBe(1);
  });

  test("option, in the sums of a quote", async () => {
    const path = await desk.begin();
    const form = formIn(await desk.shop.page(path), "builder");
    const few = await desk.shop.post(`${path}/sums`, form);
    const bytes = (await few.text()).length;
    for (let i = 0; i < 2000; i += 1) form.append("option", `x${i}`);
    const many = await desk.shop.post(`${path}/sums`, form);
    expect(few.status).toBe(200);
    expect(many.status).toBeLessThan(500);
    expect((await many.text()).length).toBeLessThan(10 * bytes + 100_000);
  });
});
