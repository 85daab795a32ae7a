import type { Schemas } from '../api/client';

export type RefundMethod = NonNullable<Schemas['NewCancellationInput']['method']>;

/** How money goes back. */
export const REFUND_METHODS: readonly (readonly [RefundMethod, string])[] = [
  ['transfer', 'By transfer'],
  ['card', 'To the card'],
  ['cash', 'In cash'],
];
