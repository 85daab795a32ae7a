import { useEffect, useState } from 'preact/hooks';

const TYPING_MILLISECONDS = 250;

/** What is typed, once somebody has stopped typing for a moment. */
export function useSettled<W>(wish: W): W {
  const [settled, setSettled] = useState(wish);
  const now = JSON.stringify(wish);
  useEffect(() => {
    if (now === JSON.stringify(settled)) return;
    const timer = setTimeout(() => setSettled(wish), TYPING_MILLISECONDS);
    return () => clearTimeout(timer);
  }, [now]);
  return settled;
}
