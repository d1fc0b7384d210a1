import { type Node, parseSync, Visitor } from "oxc-parser";
import { expect, test } from "vitest";
import { readSource, sourceFiles } from "./support/sources.ts";

/** Lines of a `describe` or a `test`: what is longer has more than one subject, and is split by them. */
const MOST_LINES = 150;

const BLOCKS = new Set(["describe", "test", "it"]);

test(`no describe and no test has more than ${MOST_LINES} lines`, () => {
  const files = sourceFiles("test").filter((file) => /\.test\.tsx?$/.test(file));
  const blocks = files.flatMap(blocksOf);
  expect(blocks.length).toBeGreaterThan(1000);
  const long = blocks.filter(({ lines }) => lines > MOST_LINES);
  expect(long.map(({ file, title, lines }) => `${file}: ${title} has ${lines} lines`)).toEqual([]);
});

/** Lines of a function of the program: a longer one does more than one thing, and is split by them. */
const MOST_OF_A_FUNCTION = 80;

test(`no function of src and views has more than ${MOST_OF_A_FUNCTION} lines`, () => {
  const functions = sourceFiles("src", "views").flatMap(functionsOf);
  expect(functions.length).toBeGreaterThan(4000);
  const long = functions.filter(({ lines }) => lines > MOST_OF_A_FUNCTION);
  expect(long.map(({ file, line, lines }) => `${file}:${line} begins a function of ${lines} lines`)).toEqual([]);
});

/** Every function, arrow and method of a file, those within others too. */
function functionsOf(file: string): { file: string; line: number; lines: number }[] {
  const source = readSource(file);
  const found: { file: string; line: number; lines: number }[] = [];
  const add = ({ start, end }: Node) => {
    const line = source.slice(0, start).split("\n").length;
    found.push({ file, line, lines: source.slice(start, end).split("\n").length });
  };
  new Visitor({ FunctionDeclaration: add, FunctionExpression: add, ArrowFunctionExpression: add }).visit(
    parseSync(file, source).program,
  );
  return found;
}

function blocksOf(file: string): { file: string; title: string; lines: number }[] {
  const source = readSource(file);
  const found: { file: string; title: string; lines: number }[] = [];
  new Visitor({
    CallExpression({ callee, arguments: given }) {
      if (!BLOCKS.has(nameOf(callee) ?? "")) return;
      const body = given.find(({ type }) => type === "ArrowFunctionExpression");
      const [title] = given;
      if (body === undefined || title === undefined) return;
      const lines = source.slice(body.start, body.end).split("\n").length;
      found.push({ file, title: source.slice(title.start, title.end), lines });
    },
  }).visit(parseSync(file, source).program);
  return found;
}

/** `describe` of `describe`, `describe.each(…)` and `describe.each<T>(…)`. */
function nameOf(callee: Node): string | undefined {
  if (callee.type === "Identifier") return callee.name;
  if (callee.type === "MemberExpression") return nameOf(callee.object);
  if (callee.type === "CallExpression") return nameOf(callee.callee);
  return undefined;
}
