/** What someone may do, each including what the ones after it may. */
export const ROLES = ["owner", "editor", "viewer"] as const;
export type Role = (typeof ROLES)[number];

/** Whether `role` may do what `needed` may. */
export function mayAct(role: Role, needed: Role): boolean {
  return ROLES.indexOf(role) <= ROLES.indexOf(needed);
}
