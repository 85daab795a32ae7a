import { takePayment } from '../../studio/accounts/payments/payments.js';
import { listOpenCharges } from '../../studio/accounts/queries.js';
import { startMembership } from '../../studio/memberships/service.js';
import type { DemoContext } from './context.js';
import type { DemoEventOf } from './event-log.js';
import { ownerOf } from './owner.js';

/** Somebody becomes a member, with a shelf. */
export async function joinMembers(
  { tx, now, names, shift }: DemoContext,
  { who, kind, shelf, from }: DemoEventOf<'joinMembers'>,
): Promise<void> {
  await startMembership(tx, now, await ownerOf(tx), names.id('person', who), {
    ...{ kindId: names.id('membershipKind', kind), startsOn: shift.day(from), boardId: names.id('board', shelf) },
  });
}

/** They pay what is charged for it by then; the demo's days are moved by whole weeks, so at times nothing is. */
export async function payMembership(
  { tx, now, names }: DemoContext,
  { payer, method }: DemoEventOf<'payMembership'>,
): Promise<void> {
  const personId = names.id('person', payer);
  const open = (await listOpenCharges(tx, '9999-12-31', personId)).filter(({ kind }) => kind === 'membership');
  const parts = open.map(({ chargeId, owedMinor }) => ({ chargeId, amountMinor: owedMinor }));
  if (parts.length > 0) await takePayment(tx, now, { personId, method, for: parts });
}
