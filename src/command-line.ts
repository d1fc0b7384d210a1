import { resolve } from "node:path";
import { parseArgs } from "node:util";
import { configFrom } from "./config.ts";
import { Problem } from "./core/problem.ts";
import { DATABASE_FILE } from "./store/migrations.ts";
import { Refusal } from "./store/node-backup.ts";

/** What a command about the records' file was told. */
export interface FileCommand {
  /** The file that the person named. */
  named: string;
  /** The database of the server that reads the same environment. */
  database: string;
  replace: boolean;
}

/** Runs a command `npm run NAME -- FILE [--replace]` and ends with a message for the person, whatever happens. */
export function runFileCommand(name: string, work: (command: FileCommand) => Promise<string>): Promise<void> {
  return endWithMessage(async () => console.log(await work(fileCommand(name))));
}

/** Runs a command; what the person has to put right is printed as it stands, and the command has failed. */
export async function endWithMessage(run: () => Promise<void>): Promise<void> {
  try {
    await run();
  } catch (error) {
    if (!(error instanceof Refusal || error instanceof Problem || error instanceof RangeError)) throw error;
    console.error(error.message);
    process.exitCode = 1;
  }
}

/** A path that the person gave: npm runs scripts in the package's folder, they named it from where they stand. */
export function besidePerson(path: string): string {
  return resolve(process.env.INIT_CWD ?? ".", path);
}

function fileCommand(name: string): FileCommand {
  const { values, positionals } = parsedArgs(name);
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0) throw usage(name);
  return {
    named: besidePerson(file),
    database: resolve(configFrom(process.env).data_dir, DATABASE_FILE),
    replace: values.replace,
  };
}

function parsedArgs(name: string) {
  try {
    return parseArgs({ allowPositionals: true, options: { replace: { type: "boolean", default: false } } });
  } catch {
    throw usage(name);
  }
}

function usage(name: string): Refusal {
  return new Refusal(`Usage: npm run ${name} -- FILE [--replace]`);
}
