import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import type { ReminderData } from '../../../mail/templates/reminder.js';
import { Problem } from '../../../problems.js';
import { addDays, localDay } from '../../../trade/calendar/calendar.js';
import { formatDay } from '../../../trade/text/format.js';
import { notify } from '../../notices/service.js';
import { getRecipient } from '../../people/guardians.js';
import { getPerson } from '../../people/service.js';
import type { Studio } from '../../settings/contract.js';
import { getStudio } from '../../settings/service.js';
import type { Reminder } from '../contract.js';
import { type ChargeState, listOpenCharges, listReminded, lockCharges } from '../queries.js';

/** So long a person is left in peace: money needs days to arrive (common practice). */
const DAYS_BETWEEN = 7;

/**
 * Writes a person a reminder of what is due, line by line, and how to pay. What is not due yet is left out.
 *
 * @throws Problem nothing-owed where nothing is due, already-reminded where one was written within seven days
 */
export async function sendReminder(tx: Transaction, now: Date, personId: string): Promise<Reminder> {
  const { name } = await getPerson(tx, personId);
  const { email } = await getRecipient(tx, personId);
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  // two that remind at once come one after the other, and a payment that came first has been counted
  await lockCharges(
    tx,
    (await dueCharges(tx, today, personId)).map(({ chargeId }) => chargeId),
  );
  const due = await dueCharges(tx, today, personId);
  if (due.length === 0)
    throw new Problem('nothing-owed', `Nothing is due from ${name} yet. What is due later is asked for on its day.`);
  await refuseSoonAgain(tx, personId, name, today, studio);

  const dueMinor = due.reduce((sum, charge) => sum + charge.dueMinor, 0);
  const data = reminderData(due, dueMinor, studio);
  const noticeId = await notify(tx, now, { personId, occasion: 'reminder', data });
  return { noticeId, dueMinor, chargeIds: due.map(({ chargeId }) => chargeId), hasEmail: email !== null };
}

const dueCharges = async (tx: Transaction, today: string, personId: string) =>
  (await listOpenCharges(tx, today, personId)).filter(({ dueMinor }) => dueMinor > 0);

async function refuseSoonAgain(
  tx: Transaction,
  personId: string,
  name: string,
  today: string,
  { timeZone, locale }: Studio,
): Promise<void> {
  const [{ remindedAt } = { remindedAt: null }] = await listReminded(tx, [personId]);
  if (remindedAt === null) return;
  const last = localDay(remindedAt, timeZone);
  const again = addDays(last, DAYS_BETWEEN);
  if (today >= again) return;
  throw new Problem(
    'already-reminded',
    `${name} was reminded on ${formatDay(last, locale)}. The money may be on its way: send another reminder from ${formatDay(again, locale)}, or ask in person.`,
    { remindedOn: last },
  );
}

function reminderData(due: readonly ChargeState[], dueMinor: number, studio: Studio): ReminderData {
  const money = moneyInText(studio);
  return {
    due: money(dueMinor),
    lines: due.map(({ description, dueMinor, dueOn }) => ({
      ...{ what: description, amount: money(dueMinor) },
      since: formatDay(dueOn ?? '', studio.locale),
    })),
    howToPay: waysToPay(due, studio),
  };
}

/** Work is paid for when it is collected, and the rest before: a sentence for each that something is due for. */
function waysToPay(due: readonly ChargeState[], { howToPay, howToPayCourses }: Studio): string[] {
  const forWork = due.filter(({ kind }) => kind === 'firing').length;
  if (forWork === due.length) return [howToPay];
  if (forWork === 0) return [howToPayCourses];
  return [`For firing: ${howToPay}`, `For the rest: ${howToPayCourses}`];
}
