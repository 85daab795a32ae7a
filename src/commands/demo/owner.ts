import type { Transaction } from '../../database/transaction.js';

/** The owner, in whose name the demo does what only an owner does. */
export async function ownerOf(tx: Transaction): Promise<{ staffMemberId: string }> {
  const { id } = await tx.staffMember.findFirstOrThrow({ where: { role: 'owner' }, orderBy: { id: 'asc' } });
  return { staffMemberId: id };
}
