import { useEffect, useState } from 'preact/hooks';

const CALM_MILLISECONDS = 150;

/** A value as it was when it last stood still: what takes long to work out need not follow a slider on its way. */
export function useCalm<T>(value: T): T {
  const [calm, setCalm] = useState(value);
  useEffect(() => {
    const waiting = setTimeout(() => setCalm(value), CALM_MILLISECONDS);
    return () => clearTimeout(waiting);
  }, [value]);
  return calm;
}

/** A value in a task of its own, after what else shows it was drawn. */
export function useNextTask<T>(value: T): T {
  const [later, setLater] = useState(value);
  useEffect(() => {
    if (later === value) return;
    const waiting = setTimeout(() => setLater(value));
    return () => clearTimeout(waiting);
  }, [value]);
  return later;
}
