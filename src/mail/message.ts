import { createHash } from 'node:crypto';
import addressparser from 'nodemailer/lib/addressparser';
import MailComposer from 'nodemailer/lib/mail-composer';
import { z } from 'zod';

/** A line break in a header would let a name add headers of its own, so that none gets in. */
const HeaderText = z.string().regex(/^\P{Cc}*$/u, 'must have no line breaks and no control characters');

const Mailbox = z.strictObject({ name: HeaderText.max(300), address: z.email('must be an email address') });
export type Mailbox = z.output<typeof Mailbox>;

const MailMessage = z.strictObject({
  /** given by the caller and always the same for a notice, so that sending it twice is seen to be one message */
  messageId: z.string().regex(/^<[\w.!#$%&'*+/=?^`{|}~-]+@[\w.-]+>$/, 'must look like <id@host>'),
  date: z.date(),
  from: Mailbox,
  to: Mailbox,
  replyTo: Mailbox.optional(),
  subject: HeaderText.max(400).regex(/\S/, 'must contain a word'), // of blanks alone no header would be left
  text: z.string().min(1),
  attachments: z.array(
    z.strictObject({
      fileName: HeaderText.regex(/^[^/\\]+$/, 'must be a file name without folders'),
      contentType: z
        .string()
        .regex(/^[\w.+-]+\/[\w.+-]+(; [\w-]+=[\w-]+)*$/, 'must be a media type such as application/pdf'),
      content: z.instanceof(Uint8Array),
    }),
  ),
});
export type MailMessage = z.output<typeof MailMessage>;

/** A message as it travels: its envelope, and its bytes (RFC 5322), which are the same whenever the same message is composed. */
export type ComposedMail = { messageId: string; from: string; to: string; bytes: Buffer };

/** @throws RangeError that names the part of the message that can't be sent, and why */
export async function composeMail(message: MailMessage): Promise<ComposedMail> {
  const parsed = MailMessage.safeParse(message);
  if (!parsed.success) {
    const faults = parsed.error.issues.map(({ path, message }) => `${path.join('.')} ${message}`);
    throw new RangeError(`This message can't be sent: ${faults.join('; ')}.`);
  }
  const { messageId, date, from, to, replyTo, subject, text, attachments } = parsed.data;
  const composer = new MailComposer({
    messageId,
    date,
    from,
    to,
    replyTo,
    subject,
    text,
    attachments: attachments.map(({ fileName, contentType, content }) => ({
      filename: fileName,
      contentType,
      content: Buffer.from(content),
    })),
    headers: { 'Auto-Submitted': 'auto-generated' }, // RFC 3834: no holiday reply to a machine
    baseBoundary: createHash('sha256').update(messageId).digest('hex').slice(0, 32), // random otherwise
    disableFileAccess: true,
    disableUrlAccess: true,
    newline: 'win',
  });
  return { messageId, from: from.address, to: to.address, bytes: await composer.compile().build() };
}

/**
 * 'Alder Lane Pottery <bench@alder.example>' or a bare address.
 *
 * @throws RangeError where it is not one mailbox
 */
export function mailboxFrom(text: string): Mailbox {
  const [first, ...more] = addressparser(text, { flatten: true });
  const mailbox = Mailbox.safeParse({ name: first?.name ?? '', address: first?.address ?? '' });
  if (more.length > 0 || !mailbox.success)
    throw new RangeError(`"${text}" is not one address. Write it as "The Clay Room <hello@studio.example>".`);
  return mailbox.data;
}
