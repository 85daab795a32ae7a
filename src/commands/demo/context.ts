import type { Transaction } from '../../database/transaction.js';
import type { IdRegistry } from './id-registry.js';
import type { Shift } from './seeds.js';

/** What an entry of the diary needs to be lived through: a transaction, its own time, and who is who. */
export type DemoContext = { tx: Transaction; now: Date; names: IdRegistry; shift: Shift };
