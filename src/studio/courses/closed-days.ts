import type { Transaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { listClosuresOn } from '../settings/closures.js';
import { getStudio } from '../settings/service.js';
import { type Member, noteChange } from './changes.js';
import type { Session } from './contract.js';

/** Notes in the history that somebody put a session on a day on which the studio is closed; nothing where it is open. */
export async function noteClosedDay(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  { ordinal, startsAt }: Session,
): Promise<void> {
  const day = localDay(new Date(startsAt), (await getStudio(tx)).timeZone);
  const [closed] = await listClosuresOn(tx, day, day);
  if (!closed) return;
  await noteChange(
    tx,
    now,
    member,
    courseId,
    `Session ${ordinal} takes place though the studio is closed that day (${closed.name}).`,
  );
}
