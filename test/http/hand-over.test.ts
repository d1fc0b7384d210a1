import jsQR from "jsqr";
import { describe, expect, test } from "vitest";
import { qrCode } from "../../src/web/quotes/qr-code.ts";
import { CONTENT, SNAPSHOT } from "../store/quote-samples.ts";
import { VAN } from "../store/samples.ts";
import { linksRuntimes } from "../support/links-app.ts";
import { EditorsDesk } from "../support/links-desk.ts";
import { decoded } from "../support/page-form.ts";
import { Person } from "../support/person.ts";

const PIXELS = 4;
const QUIET = 4;

/** What an independent reader sees in a code, drawn as dots. */
function scanned({ size, dark }: { size: number; dark: readonly (readonly boolean[])[] }): string | undefined {
  const side = (size + 2 * QUIET) * PIXELS;
  const image = new Uint8ClampedArray(side * side * 4).fill(255);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      const is_dark = dark[Math.floor(y / PIXELS) - QUIET]?.[Math.floor(x / PIXELS) - QUIET] === true;
      if (is_dark) image.fill(0, (y * side + x) * 4, (y * side + x) * 4 + 3);
    }
  return jsQR(image, side, side)?.data;
}

/** A code in a page, read back from the squares of its path. */
function codeIn(page: string): string | undefined {
  const path = /<svg class="qr"[\s\S]*?<path d="([^"]*)"/.exec(page)?.[1] ?? "";
  const squares = [...path.matchAll(/M(\d+) (\d+)h1v1h-1z/g)].map(([, x, y]) => [Number(x) - QUIET, Number(y) - QUIET]);
  const size = Math.max(0, ...squares.map(([x = 0]) => x + 1));
  const dark = Array.from({ length: size }, () => Array.from({ length: size }, () => false));
  for (const [x = 0, y = 0] of squares) dark[y]![x] = true;
  return scanned({ size, dark });
}

test("the code of an address is read back by another reader", () => {
  const address = `https://cooling.example/q/${"a1B2_-".repeat(7)}x`;
  expect(scanned(qrCode(address))).toBe(address);
});

describe.each(linksRuntimes)("a quote is handed over on $name", ({ start }) => {
  const desk = new EditorsDesk(start);

  test("as a message to copy, to mail and to text, and as a code; the customer's paper has the code, too", async () => {
    const robin = await desk.store.customers.create({
      name: "Robin Ames",
      phone: "(555) 0142",
      email: "robin@ames.example",
      address: "",
      note: "",
    });
    const { id } = await desk.store.vehicles.create(VAN);
    const draft = await desk.store.quotes.create(id, { ...CONTENT, customer_id: robin.id });
    const shown = { words: "2014 sedan", plate: "", vin: "", odometer: "" };
    const letterhead = { ...SNAPSHOT.letterhead, shop: "North Yard Cooling", phone: "555-0100" };
    const vehicle = { ...SNAPSHOT.vehicle, shown };
    const snapshot = { ...SNAPSHOT, prefix: "Q-", letterhead, vehicle, valid_until: "2099-05-31" };
    await desk.store.quotes.send(draft.id, 1, { content: { ...CONTENT, customer_id: robin.id }, snapshot });
    const page = await (await desk.editor.post(`/vehicles/${id}/quotes/${draft.id}/link`)).text();
    const link = /<a href="(https?:\/\/[^"]*\/q\/[\w-]+)"/.exec(page)?.[1] ?? "";
    expect(codeIn(page)).toBe(link);
    const message = decoded(/<textarea id="message"[^>]*>([\s\S]*?)<\/textarea>/.exec(page)?.[1] ?? "");
    expect(message.trim()).toBe(
      [
        "Hello R. Ames,",
        "",
        `here is our quote Q-1 for your 2014 sedan: ${link}`,
        "",
        "It holds until 31 May 2099. You can choose and answer on that page.",
        "North Yard Cooling, 555-0100",
      ].join("\n"),
    );
    const mail = new URL(decoded(/href="(mailto:[^"]*)"/.exec(page)?.[1] ?? ""));
    expect([decodeURIComponent(mail.pathname), mail.searchParams.get("body")]).toEqual([
      "robin@ames.example",
      message.trim(),
    ]);
    expect(decoded(/href="(sms:[^"]*)"/.exec(page)?.[1] ?? "")).toMatch(/^sms:5550142\?body=Hello%20R/);
    const paper = await new Person(desk.app).page(new URL(link).pathname);
    expect(codeIn(paper)).toBe(link);
    expect(await desk.editor.page(`/vehicles/${id}/quotes/${draft.id}/preview`)).not.toContain('class="qr"');
  });
});
