import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { auditOf } from "./support/audit.ts";
import { ROOT } from "./support/paths.ts";

interface Locked {
  version: string;
  resolved?: string;
  integrity?: string;
  license?: string;
  dev?: boolean;
  devOptional?: boolean;
  hasInstallScript?: boolean;
}

const read = (name: string) => readFileSync(join(ROOT, name), "utf8");
const { dependencies, devDependencies, optionalDependencies, allowScripts } = JSON.parse(read("package.json"));
const { packages } = JSON.parse(read("package-lock.json")) as { packages: Record<string, Locked> };
const locked = Object.entries(packages).filter(([path]) => path !== "");
const nameOf = (path: string) => path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);

/** What goes out with the product may be used, changed and passed on by anyone, with its notice. */
const PERMISSIVE = [
  "MIT",
  "MIT OR Apache-2.0",
  "Apache-2.0",
  "ISC",
  "0BSD",
  "BSD-0-Clause",
  "BSD-3-Clause",
  "BlueOak-1.0.0",
  "OFL-1.1",
];
/** What only tests and deployment on a developer's machine use may ask that its own changes be passed on. */
const FOR_DEVELOPERS = [...PERMISSIVE, "BSD-2-Clause", "Zlib", "MPL-2.0", "CC0-1.0", "LGPL-3.0-or-later"];
/** The lock file has no license of it: MIT, by the file in the package. */
const LICENSE_IN_A_FILE = ["jstat"];

test("every direct dependency is pinned to one version", () => {
  const asked = Object.entries({ ...dependencies, ...devDependencies, ...optionalDependencies });
  expect(asked.filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(String(version)))).toEqual([]);
});

test("every package is checked against its hash, and only those named run anything when they are installed", () => {
  expect(locked.filter(([, { integrity }]) => !integrity?.startsWith("sha512-")).map(([path]) => path)).toEqual([]);
  const with_scripts = locked.filter(([, one]) => one.hasInstallScript).map(([path]) => nameOf(path));
  expect(new Set(with_scripts)).toEqual(new Set(Object.keys(allowScripts)));
});

test("every license allows what is done with the package", () => {
  const wrong = locked.flatMap(([path, { license = "none", dev, devOptional }]) => {
    if (LICENSE_IN_A_FILE.includes(nameOf(path))) return [];
    const allowed = dev || devOptional ? FOR_DEVELOPERS : PERMISSIVE;
    return license
      .replace(/^\(|\)$/g, "")
      .split(" AND ")
      .every((part) => allowed.includes(part))
      ? []
      : [`${nameOf(path)}: ${license}`];
  });
  expect(wrong).toEqual([]);
});

test("an audit that could not ask says that nothing is known; a hole of some weight ends it", () => {
  const refused =
    'npm error audit endpoint returned an error\n{ "message": "405 Method Not Allowed - POST https://a.example/b" }';
  expect(auditOf(refused)).toEqual({
    text: expect.stringMatching(/^NOT CHECKED for known holes.*405 Method Not Allowed - POST the registry/),
    failed: false,
  });
  expect(auditOf("").text).toMatch(/^NOT CHECKED.*no answer/);
  const report = (holes: Record<string, string>) =>
    JSON.stringify({
      metadata: { vulnerabilities: {} },
      vulnerabilities: Object.fromEntries(
        Object.entries(holes).map(([name, severity]) => [name, { severity, range: "<2" }]),
      ),
    });
  expect(auditOf(report({}))).toEqual({ text: "Known holes in what the product uses: 0.", failed: false });
  expect(auditOf(report({ one: "low" })).failed).toBe(false);
  expect(auditOf(report({ one: "high" }))).toEqual({
    text: "Known holes in what the product uses: 1.\nhigh: one <2",
    failed: true,
  });
});

test("the README says why each direct dependency is there", () => {
  const table = /## Dependencies\n([\s\S]*?)\n## /.exec(read("README.md"))?.[1] ?? "";
  const names = Object.keys({ ...dependencies, ...devDependencies, ...optionalDependencies });
  const unsaid = names.filter((name) => !table.includes(`\`${name}\``) && !name.startsWith("@types/"));
  expect(unsaid).toEqual([]);
});
