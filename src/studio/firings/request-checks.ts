import { Problem } from '../../problems.js';

/** Refuses one field of a body that the contract let through. */
export function refuseField(pointer: string, detail: string): never {
  throw new Problem('invalid-request', detail, { errors: [{ pointer, detail }] });
}

/** What has happened can't lie ahead; a clock that is a little off is forgiven. */
export function refuseFuture(at: Date, now: Date, pointer: string): void {
  const SLACK_MILLISECONDS = 5 * 60_000;
  if (at.getTime() > now.getTime() + SLACK_MILLISECONDS)
    refuseField(pointer, 'This has not happened yet. Look at the date and time again.');
}

/** As many names as a sentence bears. */
const NAMED_MAX = 5;

/** "K7A2, M3RX and 4 more" */
export function listNames(names: readonly string[]): string {
  const shown = names.slice(0, NAMED_MAX).join(', ');
  return names.length > NAMED_MAX ? `${shown} and ${names.length - NAMED_MAX} more` : shown;
}
