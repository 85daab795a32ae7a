import type { Schemas } from '../../../api/client';

export type Done = Pick<Schemas['Count'], 'counted' | 'inBooks' | 'explanation'>;
/** What this device knows of a day's count: what was entered, and what is typed and not yet with the server. */
export type Kept = { done: Record<string, Done>; typed: Record<string, string> };

const NAME = 'wareboard count';
const NOTHING: Kept = { done: {}, typed: {} };

/** A telephone that is locked, reloaded or out of reach must not forget what somebody counted; another day begins anew. */
export function loadUnsavedCounts(today: string): Kept {
  try {
    const { day, ...kept } = JSON.parse(localStorage.getItem(NAME) ?? '{}');
    return day === today ? kept : NOTHING;
  } catch {
    return NOTHING; // another program's, or none may be kept
  }
}

export function keep(today: string, kept: Kept): void {
  try {
    localStorage.setItem(NAME, JSON.stringify({ day: today, ...kept }));
  } catch {
    // a browser that keeps nothing still counts, as long as the page stays open
  }
}
