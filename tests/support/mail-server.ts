import type { AddressInfo } from 'node:net';
import { type ParsedMail, simpleParser } from 'mailparser';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterAll } from 'vitest';

export interface MailServer {
  url: string;
  port: number;
  /** Message-IDs in the order in which letters were begun to be handed over, taken or not. */
  begun: string[];
  /** Letters that were taken. */
  taken: ParsedMail[];
  close(): Promise<void>;
}

/** What becomes of a letter: it returns, and the letter is taken; it throws an error with `responseCode`, and it is not. */
export type Handling = (messageId: string, nth: number) => Promise<void> | void;

export const refusal = (responseCode: number, words: string) => Object.assign(new Error(words), { responseCode });

/** A mail server (npm smtp-server, a project apart from the client that is tested) which treats letters as a test says. */
export async function mailServer(
  handling: Handling = () => undefined,
  options: SMTPServerOptions = {},
  port = 0,
): Promise<MailServer> {
  const begun: string[] = [];
  const taken: ParsedMail[] = [];
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    closeTimeout: 100,
    onData(stream, _session, done) {
      simpleParser(stream)
        .then(async (mail) => {
          begun.push(mail.messageId ?? '');
          await handling(mail.messageId ?? '', begun.length);
          taken.push(mail);
          done();
        })
        .catch(done);
    },
    ...options,
  });
  server.on('error', () => undefined); // a client that was killed
  await new Promise<void>((listening) => server.listen(port, '127.0.0.1', listening));
  const at = (server.server.address() as AddressInfo).port;
  const close = () => new Promise<void>((closed) => server.close(closed));
  servers.add(close);
  return { url: `smtp://127.0.0.1:${at}`, port: at, begun, taken, close };
}

const servers = new Set<() => Promise<void>>();
afterAll(async () => {
  for (const close of servers) await close();
});
