import { existsSync, statSync } from "node:fs";
import { chmod, copyFile, mkdir, open, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import { StoreFailure } from "./errors.ts";
import { migrate } from "./migrations.ts";
import { NodeSql } from "./node-sqlite.ts";

/** A database, its write-ahead log, and what its connections share. */
const FILE_SUFFIXES = ["", "-wal", "-shm"];

/** Tells the person at the command line why something was not done, and what to do. */
export class Refusal extends Error {
  override readonly name = "Refusal";
}

export interface CopyOptions {
  /** Whether a file that is there already may be replaced. */
  replace: boolean;
}

/**
 * Writes the records of one moment from the database at `file` to the single file `to`, while a server goes on using
 * them, and reads the copy through before it gets its name. Throws Refusal, or `StoreFailure`.
 */
export async function backupDatabase(
  file: string,
  to: string,
  { replace }: CopyOptions,
): Promise<{ vehicles: number }> {
  if (!isFile(file)) throw new Refusal(`There are no records at ${file}.`);
  if (existsSync(to) && !replace)
    throw new Refusal(
      `${to} is there already. Choose another name, or add --replace to put the new backup in its place.`,
    );
  const part = `${to}.part`;
  await mkdir(dirname(to), { recursive: true });
  await removeDatabase(part);
  try {
    const records = new NodeSql(file);
    await records.backup(part).finally(() => records.close());
    const copy = new NodeSql(part);
    const vehicles = await checked(copy, part).finally(() => copy.close());
    await chmod(part, 0o600);
    await putInPlace(part, to);
    return { vehicles };
  } finally {
    await removeDatabase(part);
  }
}

/**
 * Puts the backup `from` in place of the database at `file`, after it was read through and brought up to date. What was
 * there is kept under another name, which is given back. Throws Refusal, also while a server uses the records.
 */
export async function restoreDatabase(
  from: string,
  file: string,
  { replace, now }: CopyOptions & { now: Date },
): Promise<{ vehicles: number; kept: string | null }> {
  if (!isFile(from)) throw new Refusal(`There is no backup at ${from}.`);
  if (hasContent(`${from}-wal`))
    throw new Refusal(`${from} is in use, not a backup. Make a backup of it with "npm run backup" and restore that.`);
  const there = existsSync(file);
  if (there && !replace)
    throw new Refusal(
      `There are records at ${file}. Add --replace to put the backup in their place; they are kept under another name.`,
    );
  const part = `${file}.part`;
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  await removeDatabase(part);
  try {
    await copyFile(from, part);
    await chmod(part, 0o600);
    const copy = await opened(part, from);
    const vehicles = await migrate(copy)
      .then(() => checked(copy, from))
      .finally(() => copy.close());
    const kept = there ? await setAside(file, now) : null;
    await putInPlace(part, file);
    return { vehicles, kept };
  } finally {
    await removeDatabase(part);
  }
}

/** Reads everything through, leaves all of it in the one file, and gives the number of vehicles. */
async function checked(copy: NodeSql, name: string): Promise<number> {
  const problems = await copy.all<{ integrity_check: string }>("PRAGMA integrity_check(3)");
  const loose = await copy.all("PRAGMA foreign_key_check");
  if (problems.some(({ integrity_check }) => integrity_check !== "ok") || loose.length > 0)
    throw new Refusal(`${name} is damaged: ${problems.map(({ integrity_check }) => integrity_check).join("; ")}`);
  const [row] = await copy.all<{ n: number }>("SELECT count(*) AS n FROM vehicles");
  await copy.all("PRAGMA journal_mode=DELETE");
  return row!.n;
}

async function opened(part: string, name: string): Promise<NodeSql> {
  try {
    return new NodeSql(part);
  } catch (error) {
    if (error instanceof StoreFailure && error.fault === "corrupt")
      throw new Refusal(`${name} is not a database, or is damaged.`);
    throw error;
  }
}

/** Renames the database that nobody has open to a name that tells when; gives the name. */
async function setAside(file: string, now: Date): Promise<string> {
  await takeOffline(file);
  const kept = `${file}.before-${now.toISOString().replace(/[-:]|\.\d+/g, "")}`;
  for (const suffix of FILE_SUFFIXES)
    if (existsSync(`${file}${suffix}`)) await rename(`${file}${suffix}`, `${kept}${suffix}`);
  return kept;
}

/** Leaving the write-ahead log takes the file for oneself: it fails as long as anyone else has it open. */
async function takeOffline(file: string): Promise<void> {
  try {
    const sql = new NodeSql(file);
    await sql.all("PRAGMA journal_mode=DELETE").finally(() => sql.close());
  } catch (error) {
    if (!(error instanceof StoreFailure)) throw error;
    if (error.fault === "busy") throw new Refusal(`A server is using ${file}. Stop it first, then restore.`);
    // A damaged file is what a backup is restored for.
    if (error.fault !== "corrupt") throw error;
  }
}

/** Gives a finished file its name, so that after a power cut either the old or the new one is there. */
async function putInPlace(part: string, file: string): Promise<void> {
  await synced(part);
  await rename(part, file);
  await synced(dirname(file));
}

async function synced(path: string): Promise<void> {
  const handle = await open(path, "r");
  await handle.sync().finally(() => handle.close());
}

async function removeDatabase(file: string): Promise<void> {
  for (const suffix of FILE_SUFFIXES) await rm(`${file}${suffix}`, { force: true });
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ?? false;
}

function hasContent(path: string): boolean {
  return (statSync(path, { throwIfNoEntry: false })?.size ?? 0) > 0;
}
