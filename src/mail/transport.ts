import type { ComposedMail } from './message.js';

/** A road on which mail leaves. `where` says for people where it went: a file, or a server and its answer. */
export interface MailTransport {
  send(mail: ComposedMail): Promise<{ where: string }>;
}

/** Why a message did not leave. `lasting` ones stay so until somebody mends the address or the settings; others may pass. */
export class MailNotSent extends Error {
  override name = 'MailNotSent';
  constructor(
    message: string,
    readonly lasting: boolean,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}
