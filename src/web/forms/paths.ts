/** A tree of values that a form fills field by field. */
interface Tree {
  [name: string]: Tree | unknown;
}

/** The value at a path; undefined where the path does not exist. */
export function valueAt(tree: object, path: readonly string[]): unknown {
  return path.reduce<unknown>((at, name) => (at as Tree | null | undefined)?.[name], tree);
}

/** Sets the value at a path; undefined removes it. */
export function put(tree: object, path: readonly string[], value: unknown): void {
  const last = path.at(-1);
  if (last === undefined) return;
  let at = tree as Tree;
  for (const name of path.slice(0, -1)) {
    if (at[name] == null) {
      if (value === undefined) return;
      at[name] = {};
    }
    at = at[name] as Tree;
  }
  if (value === undefined) delete at[last];
  else at[last] = value;
}
