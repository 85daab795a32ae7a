import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { getStudio } from '../settings/service.js';
import { insertEntry } from './queries.js';

export type AccountCode =
  | 'cash'
  | 'card'
  | 'bank'
  | 'receivable'
  | 'billed-in-advance'
  | 'deposits-held'
  | 'vat'
  | 'vouchers-outstanding'
  | 'vouchers-lapsed'
  | 'course-income'
  | 'firing-income'
  | 'material-income'
  | 'membership-income';

/** One line of an entry: whole minor units, a debit above zero and a credit below; lines of nothing are left out. */
export type LedgerLine = { account: AccountCode; amountMinor: number; personId?: string };

/** The moment of an act, and the day on which the books have it. */
export type PostingTime = { at: Date; on: string };

/** Read once for an act that writes several rows: each would ask for the studio's time zone again. */
export async function getPostingTime(tx: Transaction, now: Date): Promise<PostingTime> {
  const { timeZone } = await getStudio(tx);
  return { at: now, on: localDay(now, timeZone) };
}

/**
 * Posts an entry to the books. Entries are never changed: a correction is another entry that names the first.
 *
 * @returns the entry's id, or null where every line is of nothing
 */
export async function postEntry(
  tx: Transaction,
  { at, on }: PostingTime,
  entry: { description: string; correctsId?: string; lines: LedgerLine[] },
): Promise<string | null> {
  const lines = together(entry.lines).filter((line) => line.amountMinor !== 0);
  if (lines.length === 0) return null;
  const off = lines.reduce((sum, line) => sum + line.amountMinor, 0);
  if (off !== 0) throw new Problem('not-balanced', `"${entry.description}" is off by ${off}. Nothing was posted.`);

  const id = newId();
  const { description, correctsId } = entry;
  await insertEntry(
    tx,
    { id, on, at, description, correctsId: correctsId ?? null },
    lines.map(({ account, amountMinor, personId = null }) => ({ id: newId(), account, personId, amountMinor })),
  );
  return id;
}

/** One line an account and person: VAT that comes off a voucher and falls due on what it pays would stand there twice. */
function together(lines: readonly LedgerLine[]): LedgerLine[] {
  const groups = groupBy(lines, (line) => `${line.account} ${line.personId ?? ''}`);
  return [...groups.values()].flatMap((group) => {
    const amountMinor = group.reduce((sum, line) => sum + line.amountMinor, 0);
    return group.slice(0, 1).map((line) => ({ ...line, amountMinor }));
  });
}
