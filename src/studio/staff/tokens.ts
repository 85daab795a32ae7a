import type { Database, Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { RIGHTS, type Right, rightsOf } from '../../http/rights.js';
import { Problem, see } from '../../problems.js';
import { addDays, instantAt, localDay } from '../../trade/calendar/calendar.js';
import { type ApiToken, type NewApiToken, TOKEN_DAYS_MAX } from './contract.js';
import { lockPasswordHash } from './queries.js';
import { tokenHash } from './secrets.js';

const PREFIX_LETTERS = 'wareboard_'.length + 6;
const NOTED_EVERY_MILLISECONDS = 5 * 60_000;

/** Gives a script some of its maker's rights until the end of a day. Of the token itself only a hash is kept. */
export async function addToken(
  tx: Transaction,
  now: Date,
  maker: { staffMemberId: string; rights: ReadonlySet<Right> },
  { name, rights, lastDay, token }: NewApiToken & { token: string },
): Promise<ApiToken> {
  const beyond = rights.find((right) => !maker.rights.has(right));
  if (beyond) throw new Problem('not-allowed', `A token can't be given ${beyond}, which you don’t have yourself.`);
  if ((await lockPasswordHash(tx, maker.staffMemberId)) === null)
    throw new Problem('signed-out', 'You were removed from the staff meanwhile.');
  const studio = await tx.studio.findUnique({ where: { id: 1 }, select: { timeZone: true } });
  const timeZone = studio?.timeZone ?? 'UTC';
  const today = localDay(now, timeZone);
  if (lastDay < today || lastDay > addDays(today, TOKEN_DAYS_MAX)) {
    const errors = [{ pointer: '#/lastDay', detail: `must be between ${today} and ${addDays(today, TOKEN_DAYS_MAX)}` }];
    throw new Problem('invalid-request', 'A token lasts for a year at most. Correct its last day.', { errors });
  }
  const row = await tx.apiToken.create({
    data: {
      ...{ id: newId(), name, staffMemberId: maker.staffMemberId, prefix: token.slice(0, PREFIX_LETTERS) },
      ...{ tokenHash: tokenHash(token), rights: RIGHTS.filter((right) => rights.some((one) => one === right)) },
      ...{ createdAt: now, endsAt: instantAt(addDays(lastDay, 1), '00:00', timeZone) },
    },
    include: { staffMember: true },
  });
  return show(row);
}

export async function listTokens(tx: Transaction, query: PageQuery) {
  return page(await tx.apiToken.findMany({ ...pageArgs(query), include: { staffMember: true } }), query, show);
}

/** Ends a token at once: the next request with it is refused. One that was revoked before stays as it is. */
export async function revokeToken(tx: Transaction, now: Date, id: string): Promise<ApiToken> {
  await tx.apiToken.updateMany({ where: { id, revokedAt: null }, data: { revokedAt: now } });
  const row = await tx.apiToken.findUnique({ where: { id }, include: { staffMember: true } });
  if (!row)
    throw new Problem(
      'not-found',
      'No token has this id. Look for it on the page Studio.',
      see('studio', '/api/tokens'),
    );
  return show(row);
}

/** Who a token speaks for, and what it may do: never more than its maker may by now. Null where it is none, has ended or was revoked. */
export async function findToken(db: Database, now: Date, token: string) {
  const row = await db.apiToken.findUnique({ where: { tokenHash: tokenHash(token) }, include: { staffMember: true } });
  if (!row || row.revokedAt || row.endsAt <= now || row.staffMember.removedAt) return null;
  if (!row.lastUsedAt || now.getTime() - row.lastUsedAt.getTime() > NOTED_EVERY_MILLISECONDS)
    await db.apiToken.updateMany({ where: { id: row.id }, data: { lastUsedAt: now } });
  const { id: staffMemberId, name, email, role } = row.staffMember;
  const rights = new Set(rightsOf(role).filter((right) => row.rights.includes(right)));
  return { staffMemberId, name, email, role, tokenId: row.id, rights };
}

type Row = Awaited<ReturnType<Transaction['apiToken']['findMany']>>[number] & { staffMember: { name: string } };

function show({ id, name, prefix, staffMember, ...row }: Row): ApiToken {
  return {
    ...{ id, name, prefix, madeBy: staffMember.name },
    rights: RIGHTS.filter((right) => row.rights.includes(right)),
    createdAt: row.createdAt.toISOString(),
    endsAt: row.endsAt.toISOString(),
    lastUsedAt: row.lastUsedAt?.toISOString() ?? null,
    revokedAt: row.revokedAt?.toISOString() ?? null,
  };
}
