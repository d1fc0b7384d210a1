import { Hono } from "hono";
import { describe, expect, test } from "vitest";
import { Problem } from "../../../src/core/problem.ts";
import { bytesOf, textOf, uploadOf } from "../../../src/web/forms/upload.ts";

const BLOCK = 256 * 1024;

/** What is read of a request: files as texts, fields, or the code of the refusal. */
async function read(request: Request) {
  let found: { files: Record<string, [name: string, text: string]>; fields: string } | string = "nothing";
  const app = new Hono().post("/", async (c) => {
    try {
      const { files, fields } = await uploadOf(c);
      const texts = [...files].map(([field, { name, pieces }]) => [field, [name, textOf(pieces)]]);
      found = { files: Object.fromEntries(texts), fields: fields.toString() };
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      found = error.code;
    }
    return c.body(null);
  });
  expect((await app.request(request)).status).toBe(200);
  return found;
}

/** The bytes of a form as the platform writes them, sent in pieces of one size. */
async function inPieces(form: FormData, piece: number): Promise<Request> {
  const whole = new Request("http://a.example/", { method: "POST", body: form });
  const type = whole.headers.get("Content-Type")!;
  return sent(new Uint8Array(await whole.arrayBuffer()), type, piece);
}

function sent(bytes: Uint8Array<ArrayBuffer>, type: string, piece = 65_536): Request {
  let from = 0;
  const body = new ReadableStream<Uint8Array<ArrayBuffer>>({
    pull(controller) {
      controller.enqueue(bytes.subarray(from, from + piece));
      from += piece;
      if (from >= bytes.length) controller.close();
    },
  });
  return new Request("http://a.example/", { method: "POST", headers: { "Content-Type": type }, body, duplex: "half" });
}

const text = (form: string, piece?: number) =>
  sent(new TextEncoder().encode(form), "multipart/form-data; boundary=part", piece);

describe("a form with files", () => {
  test.each([1, 7, 4096, 65_536, 1_000_000])("is read alike in pieces of %i bytes", async (piece) => {
    const lines = "\r\n--\r\n----part\r\n".repeat(piece < 100 ? 50 : 60_000);
    const form = new FormData();
    form.append("note", "Kälte,\n“fine”\u0000");
    form.append("file", new Blob([`\ufeff${lines}é`]), 'a "b"\n ü.csv');
    form.append("nothing", new Blob([]), "");
    form.append("events", new Blob(["x"]), "e.csv");
    form.append("submit_key", "k".repeat(65));
    expect(await read(await inPieces(form, piece))).toEqual({
      files: { file: ['a "b"\n ü.csv', `${lines}é`], events: ["e.csv", "x"] },
      fields: new URLSearchParams({ note: "Kälte,\r\n“fine”" }).toString(),
    });
  });

  test.each([-3, -2, -1, 0, 1, 2, 3, 20])("is read wherever a block ends in its last line: %i", async (beyond) => {
    const head = '--part\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n';
    const end = "\r\n--part--\r\n";
    const content = "x".repeat(BLOCK + beyond - head.length - end.length);
    expect(await read(text(head + content + end))).toEqual({ files: { file: ["a", content] }, fields: "" });
  });

  test("keeps every byte of what is no text", async () => {
    const bytes = Uint8Array.from({ length: 3 * BLOCK }, (_, i) => (i * 7919) % 251);
    const form = new FormData();
    form.append("file", new Blob([bytes]), "a.xlsx");
    let same = false;
    const app = new Hono().post("/", async (c) => {
      const { pieces } = (await uploadOf(c)).files.get("file")!;
      same = Buffer.from(bytesOf(pieces)).equals(Buffer.from(bytes));
      return c.body(null);
    });
    await app.request(await inPieces(form, 65_536));
    expect(same).toBe(true);
  });
});

test.each([
  ["another type", () => new Request("http://a.example/", { method: "POST", body: new URLSearchParams({ a: "b" }) })],
  ["no boundary", () => sent(new TextEncoder().encode("--part--"), "multipart/form-data")],
  [
    "no body",
    () =>
      new Request("http://a.example/", {
        method: "POST",
        headers: { "Content-Type": "multipart/form-data; boundary=part" },
      }),
  ],
  ["cut off", () => text('--part\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\nabc')],
  ["no form at all", () => text("PK\u0003\u0004 and so on, longer than the boundary is")],
  ["a part without a name", () => text("--part\r\nContent-Disposition: form-data\r\n\r\nabc\r\n--part--\r\n")],
  [
    "a name that is no UTF-8",
    () =>
      sent(
        Uint8Array.from(
          Buffer.from('--part\r\nContent-Disposition: form-data; name="\xff"\r\n\r\nabc\r\n--part--\r\n', "latin1"),
        ),
        "multipart/form-data; boundary=part",
      ),
  ],
])("refuses %s", async (_, request) => {
  expect(await read(request())).toBe("unreadable");
});
