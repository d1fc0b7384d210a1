import { describe, expect, test } from "vitest";
import { isLogo, readLogo } from "../../src/core/quotes/logo.ts";
import { savedLetterhead } from "../../src/web/schemas/quote-schema.ts";
import { bearer, linksOnNode } from "../support/links-app.ts";
import { LETTERHEAD, ShopDesk } from "./quotes/shop-desk.ts";

/** A PNG of one pixel, as any program writes it. */
const PIXEL = Uint8Array.from(
  atob("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="),
  (sign) => sign.charCodeAt(0),
);
const DRAWING =
  '<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><rect width="9" height="9" fill="url(#a)"/></svg>';
const bytes = (text: string) => new TextEncoder().encode(text);
const svg = (inside: string) => bytes(`<svg xmlns="http://www.w3.org/2000/svg">${inside}</svg>`);

describe("a logo", () => {
  test.each([PIXEL, bytes(DRAWING), svg('<style>.a{fill:red}</style><use href="#b"/>')])(
    "is taken as an image",
    (picture) => {
      const read = readLogo(picture);
      expect(read).toHaveProperty(
        "logo",
        expect.stringMatching(/^data:image\/(png|svg\+xml);base64,[A-Za-z0-9+/]+=*$/),
      );
      expect("logo" in read && isLogo(read.logo)).toBe(true);
    },
  );

  test.each([
    ["a script", svg("<script>alert(1)</script>")],
    ["one that is written otherwise", svg("<ScRiPt/>")],
    ["a handler", svg('<rect\nonload = "x()"/>')],
    ["a page inside", svg("<foreignObject/>")],
    ["a link", svg('<a href="https://shop.example"><rect/></a>')],
    ["a link with a prefix", svg('<use xlink:href="https://shop.example/a.svg#b"/>')],
    ["a picture from elsewhere", svg('<image href = "//shop.example/a.png"/>')],
    ["a style from elsewhere", svg("<style>@import 'a'</style>")],
    ["a paint from elsewhere", svg('<rect fill="url(https://shop.example/a)"/>')],
    ["animation", svg('<animate attributeName="href"/>')],
    ["an entity", bytes('<!DOCTYPE svg [<!ENTITY a "b">]><svg></svg>')],
  ])("of SVG with %s is refused", (_what, picture) => {
    expect(readLogo(picture)).toHaveProperty("fault", expect.stringContaining("plain drawing"));
  });

  test("of another kind, too large, or damaged is refused", () => {
    expect(readLogo(bytes("GIF89a"))).toHaveProperty("fault", "Choose a picture as PNG or SVG");
    expect(readLogo(bytes("<html></html>"))).toHaveProperty("fault", "Choose a picture as PNG or SVG");
    expect(readLogo(new Uint8Array(48 * 1024 + 1))).toHaveProperty("fault", "Choose a picture of at most 48 KiB");
    expect(readLogo(PIXEL.slice(0, 20))).toHaveProperty("fault", expect.stringContaining("damaged"));
    const vast = PIXEL.slice();
    new DataView(vast.buffer).setUint32(16, 60_000);
    expect(readLogo(vast)).toHaveProperty("fault", expect.stringContaining("2000 pixels"));
    for (const kept of [
      "https://shop.example/a.png",
      "data:text/html;base64,PGI+",
      "data:image/png;base64,AAAA",
      "data:image/svg+xml;base64,%%",
    ])
      expect(isLogo(kept), kept).toBe(false);
  });
});

describe("on the letterhead", () => {
  const desk = new ShopDesk(() => linksOnNode());

  async function upload(picture: Uint8Array<ArrayBuffer>, version: string) {
    const form = new FormData();
    form.set("version", version);
    form.set("logo", new File([picture], "logo.png"));
    const { headers } = await bearer(desk.store, "editor");
    return desk.app.request("/prices/letterhead/logo", { method: "POST", headers, body: form as never });
  }

  test("it stands on the customer's page as an image, is kept when the letterhead is saved, and goes again", async () => {
    const { link } = await desk.send();
    expect((await upload(PIXEL, "1")).status).toBe(303);
    const page = await desk.customer.page(link);
    expect(page).toMatch(
      /<img class="letterhead-logo" src="data:image\/png;base64,[^"]+" alt="Logo of North Yard Cooling"/,
    );
    await desk.shop.post("/prices/letterhead", { ...LETTERHEAD, version: "2", phone: "555 0142" });
    expect((await desk.store.letterheads.get()).letterhead).toMatchObject({
      phone: "555 0142",
      logo: expect.stringContaining("png"),
    });
    const { letterhead } = await desk.store.transfer.export();
    expect(letterhead!.letterhead.logo).toContain("png");
    expect((await upload(PIXEL, "1")).status).toBe(409);
    const refused = await upload(svg("<script/>") as Uint8Array<ArrayBuffer>, "3");
    expect(refused.status).toBe(422);
    expect(await refused.text()).toContain("plain drawing");
    await desk.shop.post("/prices/letterhead/logo/removal", { version: "3" });
    expect(await desk.customer.page(link)).not.toContain("letterhead-logo");
  });

  test("it needs the name of the shop first", async () => {
    expect((await upload(PIXEL, "0")).status).toBe(422);
  });
});

test("a file of records brings no other kind of logo", () => {
  const { version, ...head } = LETTERHEAD;
  const saved = (logo: string) => ({
    letterhead: { ...head, logo },
    version: 1,
    updated_at: "2026-05-01T12:00:00.000Z",
    updated_by: "x",
  });
  expect(savedLetterhead.safeParse(saved("")).success).toBe(true);
  expect(savedLetterhead.safeParse(saved("data:text/html;base64,PGI+")).success).toBe(false);
});
