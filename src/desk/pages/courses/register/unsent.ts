import { api, isAnswer, Refused } from '../../../api/client';

/** A tap on the register, kept on this device until the server has it; its key makes sure that it is noted once. */
export type Tap = { key: string; sessionId: string; personId: string; came: boolean | null; notedAt: string };

// Each person who signs in on a shared phone has their own: what one noted must not be sent in the name of another.
const nameOf = (staffMemberId: string) => `wareboard-register-${staffMemberId}`;

/** What was tapped and not yet sent, the earliest first. */
export function getUnsent(staffMemberId: string): Tap[] {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(nameOf(staffMemberId)) ?? '[]');
    return Array.isArray(kept) ? kept : [];
  } catch {
    return []; // a browser may refuse to keep anything
  }
}

/** @returns false where the browser does not keep it, so that it is lost with the page */
function keepUnsent(staffMemberId: string, taps: readonly Tap[]): boolean {
  try {
    localStorage.setItem(nameOf(staffMemberId), JSON.stringify(taps));
    return true;
  } catch {
    return false;
  }
}

export const addUnsent = (staffMemberId: string, tap: Tap): boolean =>
  keepUnsent(staffMemberId, [...getUnsent(staffMemberId), tap]);

/** The list is read again each time: another tab may have sent or added some meanwhile. */
const removeUnsent = (staffMemberId: string, { key }: Tap): boolean =>
  keepUnsent(
    staffMemberId,
    getUnsent(staffMemberId).filter((tap) => tap.key !== key),
  );

/** What the API refuses for a reason of the subject; sent again, it would be refused again. */
const FINAL = /no-place|session-ahead|not-found|invalid-request|key-reused|not-allowed/;
const isFinal = (error: unknown): error is Refused => isAnswer(error) && FINAL.test((error as Refused).type);

/** What came of sending: what the server has now, what it refused and why, and what stopped the rest. */
export type Sent = { taps: Tap[]; refused: { tap: Tap; detail: string }[]; stopped: Refused | null };

/** Sends what waits, one after the other, until all is sent or no answer comes. */
export async function sendUnsent(staffMemberId: string): Promise<Sent> {
  const sent: Sent = { taps: [], refused: [], stopped: null };
  for (const tap of getUnsent(staffMemberId)) {
    const { key, sessionId, ...body } = tap;
    const headers = { 'idempotency-key': `"${key}"` };
    try {
      await api.POST('/api/sessions/{sessionId}/attendance', { params: { path: { sessionId } }, body, headers });
      sent.taps.push(tap);
    } catch (error) {
      if (!isFinal(error)) return { ...sent, stopped: error instanceof Refused ? error : new Refused('unknown', '') };
      sent.refused.push({ tap, detail: error.message });
    }
    removeUnsent(staffMemberId, tap);
  }
  return sent;
}
