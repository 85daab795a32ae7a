import type { Transaction } from '../../../database/transaction.js';
import { fromDecimal } from '../../../database/values.js';
import { localDay, monthOf } from '../../../trade/calendar/calendar.js';
import { getStudio } from '../../settings/service.js';
import { findMembership } from '../rows.js';
import type { MembershipUse, UseLine } from './contract.js';
import { listUse } from './queries.js';

const MM3_PER_LITRE = 1_000_000;

/** What a member used in a month against what their membership includes, with each visit, bill and sale that makes it up. */
export async function getMembershipUse(
  tx: Transaction,
  now: Date,
  id: string,
  { month: day }: { month?: string | undefined },
): Promise<MembershipUse> {
  const row = await findMembership(tx, id);
  const month = monthOf(day ?? localDay(now, (await getStudio(tx)).timeZone));
  const lines = (await listUse(tx, id, month)).map((line) =>
    line.what === 'firing'
      ? { ...line, used: line.used / MM3_PER_LITRE, included: line.included / MM3_PER_LITRE }
      : line,
  );
  const includes = { bench: row.benchMinutes, firing: Number(fromDecimal(row.firingLitres)), clay: row.clayGrams };
  const totals = (['bench', 'firing', 'clay'] as const).flatMap((what) => {
    const own = lines.filter((line) => line.what === what);
    if (includes[what] === 0 && own.length === 0) return [];
    const sum = (of: (line: UseLine) => number) => own.reduce((so, line) => so + of(line), 0);
    const used = sum((line) => line.included);
    return [
      {
        ...{ what, includes: includes[what], used, left: Math.max(0, includes[what] - used) },
        beyond: sum((line) => line.used - line.included),
        beyondMinor: sum((line) => line.chargedMinor),
      },
    ];
  });
  return { month, totals, lines };
}
