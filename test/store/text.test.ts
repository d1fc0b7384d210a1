import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { canonicalJson, contentHash, sha256Hex } from "../../src/store/hash.ts";
import { keptText, searchText, sortKey } from "../../src/store/text.ts";

describe("searchText", () => {
  test.each([
    ["Straße", "STRASSE"],
    ["STRAẞE", "strasse"],
    ["é", "e\u0301"],
    ["É", "e"],
    ["ΟΔΟΣ", "οδός"],
    ["ﬁlter", "FILTER"],
    ["①", "1"],
    ["İstanbul", "istanbul"],
  ])("%s and %s are the same", (one, other) => {
    expect(searchText(one)).toBe(searchText(other));
  });

  test.each([
    ["כלי", "כלב"],
    ["हिन्दी", "हन्द"],
    ["🔧", "🔩"],
    ["a", "b"],
  ])("%s and %s are not", (one, other) => {
    expect(searchText(one)).not.toBe(searchText(other));
  });

  test("searchText(searchText(x)) equals searchText(x)", () => {
    fc.assert(fc.property(fc.string({ unit: "binary" }), (x) => searchText(searchText(x)) === searchText(x)));
  });

  test("leaves out what is not there", () => {
    expect(searchText("A", null, "B")).toBe("a\nb");
  });
});

test("sortKey puts numbers in their order, inside text too", () => {
  const labels = ["van 10", "Van 9", "van 1b", "VAN 1a", "Unit 2-10", "Unit 2-9"];
  const sorted = labels.toSorted((a, b) => (sortKey(a) < sortKey(b) ? -1 : 1));
  expect(sorted).toEqual(["Unit 2-9", "Unit 2-10", "VAN 1a", "van 1b", "Van 9", "van 10"]);
});

test("keptText is well formed, has no NUL, and changes nothing else", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), (x) => {
      const kept = keptText(x);
      expect(kept.isWellFormed()).toBe(true);
      expect(kept).not.toContain("\0");
      if (x.isWellFormed() && !x.includes("\0")) expect(kept).toBe(x);
    }),
  );
});

// FIPS 180-4 examples (NIST, SHA256.pdf): one block and two blocks.
test.each([
  ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
  [
    "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
    "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
  ],
])("sha256Hex(%j)", async (text, digest) => {
  expect(await sha256Hex(text)).toBe(digest);
});

test("canonicalJson and contentHash do not see the order of fields, and see everything else", async () => {
  expect(canonicalJson({ b: [{ d: 1, c: 2 }], a: null })).toBe('{"a":null,"b":[{"c":2,"d":1}]}');
  expect(await contentHash({ a: 1, b: 2 })).toBe(await contentHash({ b: 2, a: 1 }));
  for (const other of [{ a: 1 }, { a: 1, b: 3 }, { a: 1, b: "2" }, { a: 1, c: 2 }, [1, 2]])
    expect(await contentHash(other)).not.toBe(await contentHash({ a: 1, b: 2 }));
  expect(await contentHash([1, 2])).not.toBe(await contentHash([2, 1]));
});
