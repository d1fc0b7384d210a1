import { describe, expect, test } from "vitest";
import type { ChargeOfVehicle } from "../../../src/store/transfer.ts";
import { csvOf } from "../../../src/web/edge/csv.ts";
import { chargeLogCsv } from "../../../src/web/settings/charge-log-csv.ts";

const charge: ChargeOfVehicle = {
  id: "e1",
  version: 2,
  change: "corrected",
  vehicle_id: "v1",
  number: 1,
  label: "Van 2",
  refrigerant: "R-134a",
  nameplate_g: 650,
  date: "2026-04-20",
  date_within_days: 45,
  cooling: "weak",
  recovered_g: null,
  added_g: 340.19,
  added_by: "cans",
  finish: null,
  repair: null,
  dye: null,
  cooling_after: "ok",
  cans_opened: 1,
  deposit: null,
  deposit_return_by: null,
  note: "hissed, a little",
  recorded_at: "2026-05-01T12:00:00.000Z",
  recorded_by: "local",
};

describe("csvOf", () => {
  // RFC 4180 (2005), section 2: rules 1 and 3 (line breaks, header), 5 to 7 (quotes).
  test("quotes what has commas, quotes or line breaks in it, and ends every line with CRLF", () => {
    const rows = [["plain", 'say "hi"', "a,b", "a\nb", "a\r\nb", ""]];
    expect(csvOf(["a", "b", "c", "d", "e", "f"], rows)).toBe(
      'a,b,c,d,e,f\r\nplain,"say ""hi""","a,b","a\nb","a\r\nb",\r\n',
    );
  });

  test("numbers are numbers, also negative ones, and nothing is an empty cell", () => {
    expect(csvOf(["a", "b", "c"], [[-5.5, 0, null]])).toBe("a,b,c\r\n-5.5,0,\r\n");
  });

  // OWASP, "CSV Injection": the characters that begin a formula.
  test.each([
    ["=1+1", "'=1+1"],
    ["+1", "'+1"],
    ["-1", "'-1"],
    ["@SUM(A1)", "'@SUM(A1)"],
    ["\t=1", "'\t=1"],
    ["  =1", "'  =1"],
    ["＝1", "'＝1"],
    ['=HYPERLINK("x")', '"\'=HYPERLINK(""x"")"'],
    ["\r=1", '"\'\r=1"'],
    ["a=1", "a=1"],
    ["'quoted'", "'quoted'"],
  ])("a text %j is written as %j, no formula", (text, cell) => {
    expect(csvOf(["a"], [[text]])).toBe(`a\r\n${cell}\r\n`);
  });
});

test("chargeLogCsv has one line for each entry, with its vehicle and with units in the names", () => {
  expect(chargeLogCsv([charge])).toBe(
    "vehicle_id,vehicle,refrigerant,nameplate_g,date,date_within_days,cooling,recovered_g,added_g,added_by,finish,repair,dye,cooling_after,cans_opened,deposit,deposit_return_by,note,entry_id,version,recorded_at,recorded_by\r\n" +
      'v1,Van 2,R-134a,650,2026-04-20,45,weak,,340.19,cans,,,,ok,1,,,"hissed, a little",e1,2,2026-05-01T12:00:00.000Z,local\r\n',
  );
});
