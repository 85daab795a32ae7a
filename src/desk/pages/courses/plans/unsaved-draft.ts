import type { Draft } from './form-values';
import type { Opened } from './queries';

/** What was typed and not yet kept by the server, and the state of the plan that it was begun from; null for a new plan. */
export type Kept = { opened: Opened | null; draft: Draft };

const nameOf = (planId: string) => `wareboard plan ${planId}`;

/** A page that is reloaded, or left to sign in again, must not forget what somebody typed; another window begins anew. */
export function loadDraft(planId: string): Kept | null {
  try {
    return JSON.parse(sessionStorage.getItem(nameOf(planId)) ?? 'null');
  } catch {
    return null; // another program's, or none may be kept
  }
}

export function saveDraft(planId: string, kept: Kept): void {
  try {
    sessionStorage.setItem(nameOf(planId), JSON.stringify(kept));
  } catch {
    // a browser that keeps nothing still shows it as long as the page stays open
  }
}

export function deleteDraft(planId: string): void {
  try {
    sessionStorage.removeItem(nameOf(planId));
  } catch {
    // nothing was kept
  }
}
