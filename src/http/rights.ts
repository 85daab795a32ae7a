/** What a caller must be allowed to do. A route without one does not start. */
export const RIGHTS = [
  'public',
  'signed-in',
  'account:write',
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
  'attendance:write',
  'care:read',
  'care:write',
  'ware:read',
  'ware:write',
  'firings:read',
  'firings:write',
  'planning:read',
  'planning:write',
] as const;
export type Right = (typeof RIGHTS)[number];

const PEOPLE_ONLY = ['public', 'signed-in', 'account:write', 'staff:write', 'care:read', 'care:write'];

/**
 * What a token can be given. Who may sign in is for people to decide: a script that leaks could else make itself a way back. And what
 * people told about their health is for people alone.
 */
export const TOKEN_RIGHTS = RIGHTS.filter((right) => !PEOPLE_ONLY.includes(right));

export type Role = 'owner' | 'tutor';

/** A tutor runs sessions, ware and kilns, and sees no money: prices, payments, costs and notices are the owner's. */
const TUTOR: ReadonlySet<Right> = new Set<Right>([
  'public',
  'signed-in',
  'account:write',
  'people:read',
  'stock:read',
  'stock:write',
  'courses:read',
  'attendance:write',
  'care:read',
  'ware:read',
  'ware:write',
  'firings:read',
  'firings:write',
]);

export const rightsOf = (role: Role): Right[] => RIGHTS.filter((right) => role === 'owner' || TUTOR.has(right));
