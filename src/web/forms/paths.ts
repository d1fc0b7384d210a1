/** A tree of values, as a form fills it field by field. */
export interface Tree {
  [name: string]: Tree | unknown;
}

/** What stands at a path of a tree; undefined where it ends before. */
export function valueAt(tree: object, path: readonly string[]): unknown {
  return path.reduce<unknown>((at, name) => (at as Tree | null | undefined)?.[name], tree);
}

/** Puts a value at its path; undefined takes it away. */
export function put(tree: Tree, path: readonly string[], value: unknown): void {
  const last = path.at(-1);
  if (last === undefined) return;
  let at = tree;
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
