import { describe, expect, test } from "vitest";
import { CHECKS } from "../../data/checks.ts";
import { CLIMATES } from "../../data/climates.ts";
import { FORMULAS } from "../../data/formulas.ts";
import { GLOSSARY } from "../../data/glossary.ts";
import { GWP_DATA } from "../../data/gwp.ts";
import { LIMITS } from "../../data/limits.ts";
import * as constants from "../../data/model-constants.ts";
import {
  assumptionParameters,
  locationParameters,
  type NumberParameter,
  planParameters,
  priceParameters,
} from "../../data/parameters.ts";
import { features, findingPriors } from "../../data/readings-table.ts";
import { MethodPage } from "../../views/method/page.tsx";

const page = String(<MethodPage asset={(name) => `/assets/${name}`} />);

/** Text as it stands in markup. */
function escaped(words: string): string {
  return words
    .replaceAll("&", "&amp;")
    .replaceAll("'", "&#39;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}

function numbersIn(value: unknown): number[] {
  if (typeof value === "number") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(numbersIn) : [];
}

describe("the method page lists what the code uses", () => {
  const parameters: [string, NumberParameter][] = Object.entries({
    ...planParameters,
    ...priceParameters,
    ...assumptionParameters,
  });

  test.each(parameters)("%s: label, meaning, source, default", (name, parameter) => {
    const row = new RegExp(`<tr data-parameter="${name}">.*?</tr>`).exec(page)?.[0] ?? "";
    for (const words of [parameter.label, parameter.meaning, parameter.source, parameter.unit]) {
      expect(row).toContain(escaped(words));
    }
    for (const value of numbersIn(parameter.default)) expect(row).toContain(`value="${value}"`);
  });

  test("every number of every place, potential and fixed constant", () => {
    const shown = new Set([...page.matchAll(/<data value="([^"]+)"/g)].map((match) => Number(match[1])));
    const used = [
      ...numbersIn(locationParameters),
      ...Object.values(GWP_DATA).flatMap(({ values }) => numbersIn(values)),
      ...numbersIn({ ...constants }),
      ...numbersIn(findingPriors),
      ...numbersIn(features),
    ];
    expect(used.length).toBeGreaterThan(100);
    expect(used.filter((value) => !shown.has(value))).toEqual([]);
  });

  test("every climate, formula, limit, check and word", () => {
    const words = [
      ...CLIMATES.flatMap(({ name, source }) => [name, source]),
      ...FORMULAS.flatMap(({ title, intro, formulas }) => [title, intro, ...formulas.map((formula) => formula.words)]),
      ...Object.values(findingPriors).flatMap(({ why, source }) => [why, source]),
      ...Object.values(features).flatMap(({ label, bands, rows, source }) => [
        label,
        source,
        ...bands.map((band) => band.label),
        ...Object.values(rows).map(({ why }) => why),
      ]),
      ...LIMITS,
      ...CHECKS.map(({ against }) => against),
      ...Object.values(GLOSSARY).map(({ definition }) => definition),
    ];
    expect(words.filter((one) => !page.includes(escaped(one)))).toEqual([]);
  });

  test("no id twice, nothing undefined", () => {
    const ids = [...page.matchAll(/ id="([^"]+)"/g)].map((match) => match[1]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(page).not.toMatch(/undefined|NaN|\[object/);
  });
});
