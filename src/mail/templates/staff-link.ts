import { type Correspondents, indented, type Letter, letterText } from './letter.js';

export type StaffLinkData = {
  purpose: 'invitation' | 'password';
  role: 'owner' | 'tutor';
  /** who asked for it; null where it was made by a command on the machine */
  madeBy: string | null;
  email: string;
  address: string;
  /** a day and a time, in words */
  worksUntil: string;
};

/** Gives somebody who works here the link by which they choose their password. */
export function staffLinkLetter(data: StaffLinkData, correspondents: Correspondents): Letter {
  const { name } = correspondents.studio;
  const by = data.madeBy ?? name;
  const invited = data.purpose === 'invitation';
  return letterText(correspondents, invited ? `Your invitation to work with ${name}` : `A new password for ${name}`, [
    invited
      ? `${by} invites you to use Wareboard, the program that ${name} is run with, as ${data.role === 'owner' ? 'an owner' : 'a tutor'}. Open this link and choose a password:`
      : `${by} has made a link for you to choose a new password for Wareboard at ${name}. Open it and choose one:`,
    indented([data.address]),
    `The link works once, until ${data.worksUntil}. Keep it to yourself: anyone who opens it can choose your password.`,
    `Afterwards you sign in with ${data.email} and your password.`,
    invited
      ? 'If you did not expect this, you don’t have to do anything. Please tell us, so we can withdraw it.'
      : 'If you did not expect this, you don’t have to do anything: your password stays as it is until the link is used. Please tell us, though.',
  ]);
}
