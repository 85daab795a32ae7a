import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { getPeople } from '../people/service.js';
import { type Distinction, DOUBLES_MAX, type Doubles } from './contract.js';
import { findDoubles } from './queries.js';
import { inOrder } from './service.js';

/** Entries that may be of one person, by what they have in common: among the latest, or those that may be one with this one. */
export async function listDoubles(tx: Transaction, personId?: string): Promise<Doubles> {
  const rows = await findDoubles(tx, DOUBLES_MAX + 1, personId);
  const shown = rows.slice(0, DOUBLES_MAX);
  const [first, ...others] = shown.flatMap(({ oneId, otherId }) => [oneId, otherId]);
  const people = first === undefined ? [] : await getPeople(tx, [first, ...others]);
  const byId = new Map(people.map((person) => [person.id, person]));
  const items = shown.flatMap(({ oneId, otherId, sameName, sameEmail, samePhone }) => {
    const [one, other] = [byId.get(oneId), byId.get(otherId)];
    const same = [
      ...(sameName ? (['name'] as const) : []),
      ...(sameEmail ? (['email'] as const) : []),
      ...(samePhone ? (['phone'] as const) : []),
    ];
    return one && other ? [{ one, other, same }] : [];
  });
  return { items, more: rows.length > DOUBLES_MAX };
}

/** Notes that two entries are of two people, whatever they have in common. */
export async function distinguish(
  tx: Transaction,
  now: Date,
  { staffMemberId: notedById }: { staffMemberId: string },
  personId: string,
  otherId: string,
): Promise<Distinction> {
  if (personId === otherId)
    throw new Problem('invalid-request', 'That is the same entry. Choose another person.', {
      errors: [{ pointer: '#/otherId', detail: 'must be another person than the one of the address' }],
    });
  await getPeople(tx, [personId, otherId]);
  const pair = inOrder(personId, otherId);
  const { notedAt } = await tx.twoPeople.upsert({
    where: { oneId_otherId: pair },
    create: { ...pair, notedAt: now, notedById },
    update: {},
  });
  return { personId, otherId, notedAt: notedAt.toISOString() };
}
