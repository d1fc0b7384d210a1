import { execFileSync } from "node:child_process";
import { existsSync } from "node:fs";
import { copyFile, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { DATABASE_FILE } from "../../src/store/migrations.ts";
import { NodeSql } from "../../src/store/node-sqlite.ts";
import { startServer } from "../support/server.ts";

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "seepwise-records-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the server and its records", () => {
  test("are made in the data folder at the first start, for this account only", async () => {
    const data_dir = join(folder, "new", "deeper");
    const server = await startServer({ DATA_DIR: data_dir });
    await expect.poll(() => existsSync(join(data_dir, DATABASE_FILE))).toBe(true);
    expect(execFileSync("stat", ["-c", "%a", data_dir], { encoding: "utf8" }).trim()).toBe("700");
    expect(await server.stop()).toBe(0);
    expect(server.output()).not.toMatch(/The records in/);
    // All is in the one file now: a copy of that is whole.
    expect(existsSync(join(data_dir, `${DATABASE_FILE}-wal`))).toBe(false);
    const copy = join(folder, "copy.sqlite");
    await copyFile(join(data_dir, DATABASE_FILE), copy);
    const sql = new NodeSql(copy);
    expect(await sql.all("SELECT workspace_id FROM workspaces")).toEqual([{ workspace_id: "local" }]);
    sql.close();
  });

  test("that are damaged: it says so once, comes up, and answers what needs no records", async () => {
    const data_dir = await mkdtemp(join(folder, "damaged-"));
    const file = join(data_dir, DATABASE_FILE);
    await writeFile(file, "no database ".repeat(1000));
    const server = await startServer({ DATA_DIR: data_dir });
    await expect
      .poll(() => server.output())
      .toMatch(`The records in ${data_dir}: The file with the records is damaged.`);
    expect((await fetch(server.url)).status).toBe(200);
    expect((await fetch(`${server.url}/healthz`)).status).toBe(200);
    expect(await server.stop()).toBe(0);
    expect(await readFile(file, "utf8")).toMatch(/^no database/);
  });
});

describe("a server that others can reach", () => {
  const reachable = { HOST: "0.0.0.0", PORT: "0" };
  const linkIn = (output: string) => /\/access\/([\w-]{43,86})$/m.exec(output)?.[0];

  test("prints an owner's link until it is used: the newest one works, the older ones do not", async () => {
    const data_dir = await mkdtemp(join(folder, "reachable-"));
    const links: string[] = [];
    for (let start = 0; start < 2; start += 1) {
      const server = await startServer({ ...reachable, DATA_DIR: data_dir });
      await expect.poll(() => linkIn(server.output())).toBeDefined();
      links.push(linkIn(server.output()) as string);
      await server.stop();
    }
    const server = await startServer({ ...reachable, DATA_DIR: data_dir });
    await expect.poll(() => linkIn(server.output())).toBeDefined();
    const url = server.url.replace("0.0.0.0", "127.0.0.1");
    const newest = linkIn(server.output()) as string;
    for (const old of links) expect((await fetch(url + old)).status).toBe(404);
    const headers = { "Sec-Fetch-Site": "same-origin" };
    const opened = await fetch(url + newest, { method: "POST", headers, redirect: "manual" });
    expect(opened.status).toBe(303);
    await server.stop();

    const after = await startServer({ ...reachable, DATA_DIR: data_dir });
    await fetch(`${after.url.replace("0.0.0.0", "127.0.0.1")}/healthz`);
    await after.stop();
    expect(linkIn(after.output())).toBeUndefined();
  });
});
