import type { AssetUrl } from "../../../views/assets.ts";

/** The lookup of a build's manifest (plain name → address). */
export function assetUrl(manifest: Readonly<Record<string, string>>): AssetUrl {
  return (name) => {
    const url = manifest[name];
    if (url === undefined)
      throw new Error(`No client file named ${name} was built; there are ${Object.keys(manifest).join(", ")}`);
    return url;
  };
}
