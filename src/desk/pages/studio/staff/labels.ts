import { count, type Formatter } from '../../../format/formatter';
import type { StaffEntry } from './deed';

export const ROLES = [
  ['tutor', 'Tutor'],
  ['owner', 'Owner'],
] as const;

export const roleName = (role: StaffEntry['role']): string => (role === 'owner' ? 'Owner' : 'Tutor');

/** "Saturday 5 December, 10:00": until when a link works. */
export const expiryInWords = (instant: string, formatter: Formatter): string =>
  `${formatter.longDay(formatter.dayOf(instant))}, ${formatter.time(instant)}`;

/** What became of the email with a link. */
export function mailWords({ state, detail }: NonNullable<StaffEntry['passwordLink']>['mail']): string {
  if (state === 'waiting') return 'The email is on its way.';
  if (state === 'sent') return 'The email was sent.';
  if (state === 'written') return 'The email is in the outbox folder and was not sent: pass the link on yourself.';
  if (state === 'failed') return `The email could not be sent. ${detail ?? ''}`.trim();
  return 'The link was printed on the machine.';
}

/** Whether somebody has joined, and what their link is good for. */
export function stateWords({ state, passwordLink }: StaffEntry, formatter: Formatter): string {
  const joined = state === 'active';
  if (!passwordLink) return joined ? 'Can sign in' : 'Invited, and has no link: send a new one';
  const { works, expiresAt } = passwordLink;
  const until = expiryInWords(expiresAt, formatter);
  if (joined) return works ? `Can sign in; a link for a new password works until ${until}` : 'Can sign in';
  return works ? `Invited; the link works until ${until}` : 'Invited, but the link has run out: send a new one';
}

export const sessionsWords = (sessions: number): string => count(sessions, 'coming session');
