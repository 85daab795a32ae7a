import { createHash } from 'node:crypto';

/** A short key for what is alike to the last sign: of what is kept by it, so that the whole need not be kept too. */
export const digest = (value: unknown): string => createHash('sha256').update(JSON.stringify(value)).digest('base64');
