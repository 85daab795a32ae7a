import type { Invariant } from '../../database/invariant.js';

/** What must always hold of messages and their papers. */
export const invariants: readonly Invariant[] = [
  {
    name: 'a rendering is what it was',
    sql: `SELECT format('document %s does not match its SHA-256', document_id) AS fault FROM rendering
           WHERE sha256 <> encode(sha256(pdf), 'hex')`,
  },
];
