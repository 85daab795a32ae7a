/** What a caller must be allowed to do. A route without one does not start. */
export const RIGHTS = [
  'public',
  'signed-in',
  'settings:write',
  'staff:write',
  'people:read',
  'people:write',
  'money:read',
  'money:write',
  'stock:read',
  'stock:write',
  'courses:read',
  'courses:write',
  'ware:read',
  'ware:write',
  'firings:read',
  'firings:write',
  'planning:read',
] as const;
export type Right = (typeof RIGHTS)[number];

export type Role = 'owner' | 'tutor';

/** A tutor runs sessions, ware and kilns, and sees no money: prices, payments, costs and notices are the owner's. */
const TUTOR: ReadonlySet<Right> = new Set<Right>([
  'public',
  'signed-in',
  'people:read',
  'stock:read',
  'stock:write',
  'courses:read',
  'ware:read',
  'ware:write',
  'firings:read',
  'firings:write',
]);

export function hasRight(role: Role, right: Right): boolean {
  return role === 'owner' || TUTOR.has(right);
}
