import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import type { Right } from '../../http/rights.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getStudio } from '../settings/service.js';
import type { Me, NewStaffMember, SetUp, StaffMember } from './contract.js';
import { refuseTakenEmail } from './members.js';
import { newToken, tokenHash } from './secrets.js';

const HOUR = 3_600_000;
const LINK_HOURS = 24;

/** The password is hashed before: that takes too long for a transaction. */
type WithPassword<T> = Omit<T, 'password'> & { passwordHash: string };

/** Adds somebody who can sign in at once, as the first owner can; others are invited. */
export async function addStaffMember(
  tx: Transaction,
  now: Date,
  wanted: WithPassword<NewStaffMember>,
): Promise<StaffMember> {
  const { name, email, role, passwordHash } = wanted;
  await refuseTakenEmail(tx, email);
  const row = await tx.staffMember.create({ data: { id: newId(), name, email, role, passwordHash, createdAt: now } });
  return { id: row.id, name, email, role };
}

/** The token of a new set-up link, or null where the studio has staff already. Earlier links end. */
export async function newSetUpToken(tx: Transaction, now: Date): Promise<string | null> {
  if ((await tx.staffMember.count()) > 0) return null;
  const token = newToken();
  await tx.setUpLink.deleteMany({});
  const expiresAt = new Date(now.getTime() + LINK_HOURS * HOUR);
  await tx.setUpLink.create({ data: { tokenHash: tokenHash(token), createdAt: now, expiresAt } });
  return token;
}

/** Makes the first owner, once, for whoever holds the set-up link. */
export async function setUpStaffMember(tx: Transaction, now: Date, wanted: WithPassword<SetUp>): Promise<StaffMember> {
  if ((await tx.staffMember.count()) > 0)
    throw new Problem(
      'set-up-done',
      'Please sign in instead. An owner can invite others on the page Studio.',
      see('studio', '/api/staff'),
    );
  const { count } = await tx.setUpLink.updateMany({
    where: { tokenHash: tokenHash(wanted.token), usedAt: null, expiresAt: { gt: now } },
    data: { usedAt: now },
  });
  if (count === 0)
    throw new Problem('not-found', 'This set-up link is not valid any more. Start the server again for a fresh one.');
  return addStaffMember(tx, now, { ...wanted, role: 'owner' });
}

/** Who is signed in, what they may do, and what every page needs to know of the studio. */
export async function getMe(
  tx: Transaction,
  now: Date,
  caller: StaffMember & { rights: Right[] },
): Promise<Omit<Me, 'sample'>> {
  const studio = await tx.studio.findUnique({ where: { id: 1 }, select: { id: true } });
  if (!studio) return { ...caller, studio: null, today: localDay(now, 'UTC') };
  const { name, currency, locale, timeZone } = await getStudio(tx);
  return { ...caller, studio: { name, currency, locale, timeZone }, today: localDay(now, timeZone) };
}
