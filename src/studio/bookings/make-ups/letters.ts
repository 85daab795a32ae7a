import type { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import type { MakeUpData, MakeUpEndedData } from '../../../mail/templates/make-up.js';
import type { Course } from '../../courses/contract.js';
import { sessionInWords } from '../../courses/session-dates.js';
import { notify } from '../../notices/service.js';
import { getStudio } from '../../settings/service.js';
import type { MakeUp } from './contract.js';

/** Tells the payer, who tells whom they booked for, when and where a missed session is made up. */
export async function writeMakeUp(tx: Transaction, now: Date, makeUp: MakeUp, payerId: string, there: Course) {
  await notify(tx, now, { personId: payerId, occasion: 'makeUp', data: await dataOf(tx, makeUp, payerId, there) });
}

/** Tells them that it is not; `reason` is null where the owner took it off. */
export async function writeMakeUpEnded(
  tx: Transaction,
  now: Date,
  makeUp: MakeUp,
  payerId: string,
  reason: string | null,
  there: Course,
): Promise<void> {
  const data: z.output<typeof MakeUpEndedData> = { ...(await dataOf(tx, makeUp, payerId, there)), reason };
  await notify(tx, now, { personId: payerId, occasion: 'makeUpEnded', data });
}

async function dataOf(
  tx: Transaction,
  { personId, name, missed, there }: MakeUp,
  payerId: string,
  { note }: Course,
): Promise<z.output<typeof MakeUpData>> {
  const studio = await getStudio(tx);
  return {
    ...{ attendee: name, isPayer: personId === payerId, course: missed.courseTitle, there: there.courseTitle },
    missed: sessionInWords(missed, studio),
    session: `${sessionInWords(there, studio)}, ${there.roomName}`,
    ...{ directions: studio.directions, note },
  };
}
