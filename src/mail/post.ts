import type { Database } from '../database/transaction.js';
import type { Renderer } from '../documents/renderer.js';
import type { Mailbox } from './message.js';
import { MailNotSent, type MailTransport } from './transport.js';

/** A file that goes with a message, which is not a paper. */
export type Enclosure = { fileName: string; contentType: string; content: Uint8Array<ArrayBuffer> };

/** Who a message goes to, and on which occasion. */
export type Recipient = { personId: string; mailbox: Mailbox; occasion: string };

/**
 * What else goes with a message to somebody, as things stand when it is sent; null where nothing does. `noteSent` is called once the
 * message is on its way.
 */
export type Enclose = (
  post: Post,
  to: Recipient,
  from: Mailbox,
) => Promise<{ files: Enclosure[]; noteSent(): Promise<void> } | null>;

/** What a job needs to write to somebody. */
export type Post = {
  db: Database;
  now: () => Date;
  transport: MailTransport;
  /** whether the transport only writes files, as it does where no mail server is set */
  writesFiles: boolean;
  /** who writes; the studio's own address where it is left out */
  from: Mailbox | undefined;
  /** draws the papers that go with letters; this thread does, where it is left out */
  renderer?: Renderer;
  /** what nouns put into messages, besides their papers */
  enclose?: readonly Enclose[];
};

/** Who a message comes from, and where answers go. @throws MailNotSent where there is no address to write from */
export function senderOf(
  from: Mailbox | undefined,
  studio: { name: string; email: string | null },
): { from: Mailbox; replyTo?: Mailbox } {
  const own = studio.email === null ? undefined : { name: studio.name, address: studio.email };
  const sender = from ?? own;
  if (!sender) throw new MailNotSent('No sender address: give the studio an email address, or set MAIL_FROM.', false);
  return { from: sender, ...(own && own.address !== sender.address ? { replyTo: own } : {}) };
}
