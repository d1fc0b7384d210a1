import ipaddr from "ipaddr.js";

/** Longer than any that is typed. */
const MAX_ADDRESS_CHARS = 500;

/** Names that lead to the machine itself or into its network, whatever they resolve to. */
const NAMES_AT_HOME = /(^|\.)(localhost|local|internal|intranet|lan|home|corp|home\.arpa)$/;

/**
 * What is wrong with an address for messages; null where nothing is. It has to be on the public internet and encrypted:
 * a server must not be sent into its own network. What a name resolves to is looked at again when it is called.
 */
export function addressFault(typed: string): string | null {
  if (typed.length > MAX_ADDRESS_CHARS) return `Enter an address of at most ${MAX_ADDRESS_CHARS} characters`;
  const url = URL.canParse(typed) ? new URL(typed) : null;
  if (url?.protocol !== "https:")
    return "Enter an address that begins with https://, like https://shop.example/messages";
  if (url.username !== "" || url.password !== "") return "Leave name and password out of the address";
  const host = url.hostname.replace(/^\[|\]$/g, "").replace(/\.$/, "");
  const outside = ipaddr.isValid(host) ? isPublicAddress(host) : host.includes(".") && !NAMES_AT_HOME.test(host);
  return outside ? null : "Enter an address on the public internet. This one leads into a private network";
}

/** Whether an IP address is one of the public internet (not private, loopback, link-local, reserved or a way round). */
export function isPublicAddress(address: string): boolean {
  return ipaddr.isValid(address) && ipaddr.process(address).range() === "unicast";
}
