import type { DeliveryOutcome } from '../../database/generated/enums.js';
import { composeMail } from '../../mail/message.js';
import { type Post, senderOf } from '../../mail/post.js';
import { staffLinkLetter } from '../../mail/templates/staff-link.js';
import { MailNotSent } from '../../mail/transport.js';
import { localDay, localTime } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { tradingDisclosure } from '../../trade/text/trading-disclosure.js';
import { getStudio } from '../settings/service.js';

type LinkJob = { linkId: string; address: string };

/**
 * Writes somebody the link by which they choose their password, as long as it works.
 *
 * @throws MailNotSent where trying again may help, so that the queue does
 */
async function deliver(post: Post, { linkId, address }: LinkJob): Promise<void> {
  const { db, now } = post;
  const note = async (outcome: DeliveryOutcome, detail: string) => {
    await db.staffLink.updateMany({
      where: { id: linkId },
      data: { mailOutcome: outcome, mailDetail: detail, mailedAt: now() },
    });
  };
  const link = await db.staffLink.findUnique({
    where: { id: linkId, usedAt: null, endedAt: null, expiresAt: { gt: now() } },
    include: { staffMember: true, madeBy: true },
  });
  if (!link || link.mailOutcome === 'sent' || link.mailOutcome === 'written') return;
  try {
    const { where } = await post.transport.send(await compose(post, link, address));
    await note(post.writesFiles ? 'written' : 'sent', where);
  } catch (error) {
    await note('failed', error instanceof Error ? error.message : String(error));
    if (!(error instanceof MailNotSent) || !error.lasting) throw error;
  }
}

type Link = NonNullable<Awaited<ReturnType<Post['db']['staffLink']['findUnique']>>> & {
  staffMember: { name: string; email: string; role: 'owner' | 'tutor' };
  madeBy: { name: string } | null;
};

async function compose({ db, from }: Post, link: Link, address: string) {
  if ((await db.studio.count()) === 0)
    throw new MailNotSent('No sender address: enter the studio first. The email is sent soon after.', false);
  const studio = await getStudio(db);
  const { name, email, role } = link.staffMember;
  const { expiresAt, purpose } = link;
  const day = formatDay(localDay(expiresAt, studio.timeZone), studio.locale, { weekday: true });
  const letter = staffLinkLetter(
    {
      ...{ purpose, role, email, address, madeBy: link.madeBy?.name ?? null },
      worksUntil: `${day}, ${localTime(expiresAt, studio.timeZone)}`,
    },
    { studio: { ...studio, legal: tradingDisclosure(studio) }, personName: name },
  );
  return composeMail({
    messageId: `<${link.id}@wareboard>`,
    date: link.createdAt,
    ...senderOf(from, studio),
    to: { name, address: email },
    subject: letter.subject,
    text: letter.text,
    attachments: [],
  });
}

/** For the worker's task list. */
export const staffTasks = (post: Post) => ({
  'deliver-staff-link': async (payload: unknown) => deliver(post, payload as LinkJob),
});
