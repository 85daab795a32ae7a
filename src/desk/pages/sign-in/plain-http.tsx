import { ErrorMessage } from '../../forms/error-message';

const LOOPBACK = /^(localhost|127\.\d+\.\d+\.\d+|\[::1\])$/;

/** Whether this page came so that a password typed into it could be read on the way. */
export const overPlainHttp = (): boolean => location.protocol === 'http:' && !LOOPBACK.test(location.hostname);

/** Stands where the form would: why there is none, and what to do. */
export function PlainHttp({ doing }: { doing: string }) {
  return (
    <ErrorMessage>
      {doing} can’t work here: this page came over plain HTTP from another machine, and anybody on the network could
      read your password and take your place. Put a proxy with HTTPS in front of Wareboard, or give it a certificate,
      and open its https:// address; or open the desk on the machine that it runs on.
    </ErrorMessage>
  );
}
