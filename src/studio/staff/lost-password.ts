import type { Transaction } from '../../database/transaction.js';
import { LINK_HOURS, makeLink } from './links.js';
import { lockStaff } from './queries.js';

type LinkOnMachine = { name: string; email: string; address: string; hours: number };

/**
 * The link by which somebody chooses a new password, or their first one, for whoever runs commands on the machine. It is not mailed.
 * @returns the addresses that people sign in with, where nobody has this one
 */
export async function makeLinkOnMachine(
  tx: Transaction,
  now: Date,
  typed: string,
  ownAddress: string,
): Promise<LinkOnMachine | { emails: string[] }> {
  await lockStaff(tx); // whoever is being removed must not get a link
  const staff = await tx.staffMember.findMany({ where: { removedAt: null }, orderBy: { email: 'asc' } });
  const member = staff.find(({ email }) => email === typed.trim().toLowerCase());
  if (!member) return { emails: staff.map(({ email }) => email) };
  const { id, name, email, passwordHash } = member;
  const purpose = passwordHash === null ? 'invitation' : 'password';
  const maker = { staffMemberId: null, ownAddress };
  const address = await makeLink(tx, now, id, { purpose, maker, mailed: false });
  return { name, email, address, hours: LINK_HOURS[purpose] };
}
