import { newId } from '../../http/ids.js';
import { composeMail } from '../../mail/message.js';
import { type Post, senderOf } from '../../mail/post.js';
import { MailNotSent } from '../../mail/transport.js';
import { recipientOf, WITH_GUARDIANS } from '../people/guardians.js';
import { getStudio } from '../settings/service.js';
import type { Notice } from './contract.js';
import { letterOf } from './letter.js';
import { getRendered } from './rendering.js';

type Outcome = Exclude<Notice['state'], 'waiting'>;

/**
 * Delivers a notice: its letter, with its paper where it has one. It may run again after a crash; the message then goes out once
 * more under the same Message-ID, by which a mail program knows it for the same.
 *
 * @throws MailNotSent where trying again may help, so that the queue does
 */
async function deliver(post: Post, noticeId: string): Promise<void> {
  const { db, now } = post;
  const note = async (outcome: Outcome, detail: string) => {
    await db.delivery.create({ data: { id: newId(), noticeId, at: now(), outcome, detail } });
  };
  const { person, ...found } = await db.notice.findUniqueOrThrow({
    where: { id: noticeId },
    include: {
      person: { include: WITH_GUARDIANS },
      deliveries: { where: { outcome: { in: ['sent', 'written', 'noAddress'] } } },
    },
  });
  const notice = { ...found, person: recipientOf(person) };
  if (notice.deliveries.length > 0) return;
  if (notice.person.email === null)
    return note('noAddress', 'No email address is known. Print it, or tell the person.');
  try {
    const { message, noteSent } = await compose(post, notice);
    const { where } = await post.transport.send(message);
    await note(post.writesFiles ? 'written' : 'sent', where);
    await noteSent();
  } catch (error) {
    await note('failed', error instanceof Error ? error.message : String(error));
    if (!(error instanceof MailNotSent) || !error.lasting) throw error;
  }
}

async function compose(
  post: Post,
  notice: {
    occasion: Notice['occasion'];
    data: unknown;
    documentId: string | null;
    messageId: string;
    createdAt: Date;
    personId: string;
    person: { name: string; email: string | null };
  },
) {
  const { db, from, enclose = [] } = post;
  const studio = await getStudio(db);
  const sender = senderOf(from, studio);
  const letter = letterOf(studio, notice);
  const paper = notice.documentId === null ? null : await getRendered(post, notice.documentId);
  const to = { name: notice.person.name, address: notice.person.email ?? '' };
  const recipient = { personId: notice.personId, mailbox: to, occasion: notice.occasion };
  const enclosed = await Promise.all(enclose.map((one) => one(post, recipient, sender.replyTo ?? sender.from)));
  const files = paper
    ? [{ fileName: paper.fileName, contentType: 'application/pdf', content: new Uint8Array(paper.pdf) }]
    : [];
  const message = await composeMail({
    messageId: notice.messageId,
    date: notice.createdAt,
    ...sender,
    to,
    subject: letter.subject,
    text: letter.text,
    attachments: [...files, ...enclosed.flatMap((one) => one?.files ?? [])],
  });
  const noteSent = async () => {
    for (const one of enclosed) await one?.noteSent();
  };
  return { message, noteSent };
}

/** For the worker's task list. */
export const noticeTasks = (post: Post) => ({
  'deliver-notice': async (payload: unknown) => deliver(post, (payload as { noticeId: string }).noticeId),
});
