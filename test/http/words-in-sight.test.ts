import { expect, test } from "vitest";
import { wordsBench } from "../bench/words.bench.ts";
import { wordsOf } from "../support/words-in-sight.ts";

test("wordsOf(page) counts what is in sight and what is folded, and nothing else", () => {
  const page = `<html><head><title>No title</title></head><body><nav><a href="/">Menu</a></nav><main><h1>Two words</h1>
    <p class="visually-hidden">Not seen</p><p hidden="">Nor this</p><input value="no > word"/><textarea>Nor what is typed</textarea><p>a &amp; 12&nbsp;oz</p>
    <details><summary>Unfold it</summary><p>Three more words</p><details><summary>In there</summary></details></details>
    <details open=""><summary>Open</summary><p>Read me</p></details><div class="for-what"><p>Once chosen</p></div>
    <select><option>Choice</option></select></main></body></html>`;
  expect(wordsOf(page)).toEqual({ in_sight: 2 + 3 + 2 + 1 + 2, folded: 3 + 2 + 2 });
});

test("no page has more words in sight than it may", async () => {
  const pages = await wordsBench();
  expect(pages.length).toBeGreaterThan(20);
  for (const { page, in_sight } of pages) expect(in_sight, page).toBeGreaterThan(50);
  expect(
    pages.filter(({ in_sight, most }) => in_sight > most).map(({ page, in_sight }) => `${page}: ${in_sight}`),
  ).toEqual([]);
}, 120_000);
