import { randomUUID } from 'node:crypto';
import { mkdir, open, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { MailNotSent, type MailTransport } from './transport.js';

/**
 * Writes each message as an .eml file named after its Message-ID. It is there whole or not at all, and sending it again
 * writes the same file again.
 *
 * @param folder is made where it is missing
 */
export function outboxFolder(folder: string): MailTransport {
  return {
    async send({ messageId, bytes }) {
      const file = join(folder, fileNameOf(messageId));
      const unfinished = join(folder, `.${randomUUID()}.unfinished`);
      try {
        await mkdir(folder, { recursive: true });
        const handle = await open(unfinished, 'wx', 0o600);
        try {
          await handle.writeFile(bytes);
          await handle.sync();
        } finally {
          await handle.close();
        }
        await rename(unfinished, file);
      } catch (error) {
        await rm(unfinished, { force: true }).catch(() => {}); // the folder itself may be what is wrong
        throw new MailNotSent(`The message could not be written to ${folder}: ${reasonOf(error)}`, false, {
          cause: error,
        });
      }
      return { where: file };
    },
  };
}

function reasonOf(error: unknown): string {
  if ((error as { code?: string }).code === 'ENOSPC') return 'the disk is full. Make room on it; it is tried again.';
  return error instanceof Error ? error.message : String(error);
}

/** Two ids never share a file, and none leads out of the folder or is hidden in it. */
export function fileNameOf(messageId: string): string {
  const id = messageId.replace(/^<|>$/g, '');
  const safe = id.replace(/^\.|[^A-Za-z0-9.@_-]/g, (sign) => `%${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
  return `${safe}.eml`;
}
