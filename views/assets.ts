/**
 * The address of a built client file by its plain name: `asset("app.css")` is `/assets/app-K3J9ZQ2M.css`. Throws for a
 * name that was not built.
 */
export type AssetUrl = (name: string) => string;
