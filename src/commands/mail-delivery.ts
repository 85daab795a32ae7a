import { join } from 'node:path';
import type { Config } from '../config.js';
import type { Database } from '../database/transaction.js';
import { mailboxFrom } from '../mail/message.js';
import { outboxFolder } from '../mail/outbox-folder.js';
import type { Post } from '../mail/post.js';
import { smtp } from '../mail/smtp.js';

/** How letters leave: by the mail server, or as files in the outbox folder where none is set. */
export function mailDeliveryFrom(config: Config, db: Database, now: () => Date): Post {
  const transport = config.smtpUrl ? smtp(config.smtpUrl) : outboxFolder(join(config.dataFolder, 'outbox'));
  const from = config.mailFrom ? mailboxFrom(config.mailFrom) : undefined;
  return { db, now, transport, writesFiles: config.smtpUrl === undefined, from };
}
