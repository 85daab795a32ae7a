import type { Schemas } from '../api/client';
import limits from '../api/limits.json';

type Limit = { required?: boolean; maxLength?: number; minimum?: number; maximum?: number };

/** What the API allows in a field of a request, by the name of the request's schema and the field's pointer. */
export const limitOf = (schema: keyof Schemas, pointer: string): Limit =>
  (limits as Record<string, Record<string, Limit>>)[schema]?.[pointer] ?? {};
