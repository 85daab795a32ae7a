import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { signInFirst } from '../../../api/client';
import { addUnsent, getUnsent, type Sent, sendUnsent, type Tap } from './unsent';

/** So often it is tried again while something waits: a phone does not always say that its connection is back. */
const RETRY_MILLISECONDS = 15_000;

export type Taps = {
  /** what was tapped here, sent or not, the latest last */
  taps: readonly Tap[];
  /** how many wait for a connection */
  unsent: number;
  /** whether they wait because no answer came */
  isCutOff: boolean;
  /** false where this browser keeps nothing */
  isKept: boolean;
  /** what the server refused, which is not noted */
  refused: Sent['refused'];
  note(tap: Omit<Tap, 'key' | 'notedAt'>): void;
};

/**
 * Taps are shown at once, kept on this device, and sent as soon as the server can be reached. Each has its time by the server's clock,
 * as it was when the page was opened: by a phone's own, which may be slow, a tap could count as earlier than what it corrects.
 */
export function useTaps(staffMemberId: string, again: () => Promise<void>, skewMilliseconds: number): Taps {
  const [skew] = useState(skewMilliseconds);
  const [taps, setTaps] = useState<readonly Tap[]>(() => getUnsent(staffMemberId));
  const [unsent, setUnsent] = useState(taps.length);
  const [isCutOff, setCutOff] = useState(false);
  const [isKept, setKept] = useState(true);
  const [refused, setRefused] = useState<Sent['refused']>([]);
  const isSending = useRef(false);
  const send = useCallback(async () => {
    if (isSending.current || getUnsent(staffMemberId).length === 0) return;
    isSending.current = true;
    const sent = await sendUnsent(staffMemberId);
    isSending.current = false;
    setUnsent(getUnsent(staffMemberId).length);
    setCutOff(sent.stopped !== null);
    if (sent.stopped && signInFirst(sent.stopped)) return;
    const gone = new Set(sent.refused.map(({ tap }) => tap.key));
    if (gone.size > 0) setTaps((before) => before.filter(({ key }) => !gone.has(key)));
    setRefused((before) => [...before, ...sent.refused]);
    if (sent.stopped) return;
    if (sent.taps.length > 0) await again();
    void send(); // what was tapped meanwhile
  }, [staffMemberId]);
  useEffect(() => {
    void send();
    const timer = setInterval(send, RETRY_MILLISECONDS);
    addEventListener('online', send);
    return () => {
      clearInterval(timer);
      removeEventListener('online', send);
    };
  }, [send]);
  const note: Taps['note'] = (wish) => {
    const tap = { ...wish, key: crypto.randomUUID(), notedAt: new Date(Date.now() + skew).toISOString() };
    setKept(addUnsent(staffMemberId, tap));
    setTaps((before) => [...before, tap]);
    setUnsent(getUnsent(staffMemberId).length);
    setRefused([]);
    void send();
  };
  return { taps, unsent, isCutOff, isKept, refused, note };
}
