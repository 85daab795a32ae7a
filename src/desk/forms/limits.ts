import limits from '../api/limits.json';

export type Limit = { required?: boolean; maxLength?: number; maxItems?: number; minimum?: number; maximum?: number };
/** A request by its name in the API: what is sent, or what is looked for. */
export type Limited = keyof typeof limits;

/** What the API allows in a field of a request, by the field's pointer; of lines, all have the limits of "*". */
export const limitOf = (request: Limited, pointer: string): Limit =>
  (limits as Record<Limited, Record<string, Limit>>)[request][pointer.replace(/\/\d+(?=\/|$)/g, '/*')] ?? {};

/** As many letters as can be looked for, in one list as in another. */
export const SEARCH_MAX = limitOf('GET /api/search', '?q').maxLength;
