/** The build's manifest, typed here so that types can be checked before anything is built. */
declare module "*/dist/assets.json" {
  const manifest: Readonly<Record<string, string>>;
  export default manifest;
}
