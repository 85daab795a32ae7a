import type { Page } from 'playwright-core';

/** What a page sent for, by its own clock. */
export type Sent = { path: string; began: number; ended: number; bytes: number };
export type Watched = { sent: Sent[]; tasks: { lasted: number }[]; usable: number | undefined };

declare global {
  var deskWatch: { tasks: Watched['tasks']; usable: number | undefined };
}

/**
 * Runs in the page before its own code: notes each task of 50 ms or more, and when the page last became usable, which is when nothing
 * of it says any more that it is being read. No function in it has a name: tsx would have it call a helper that the page has not.
 */
function beginWatching(): void {
  performance.setResourceTimingBufferSize(5000); // of itself it forgets what comes after 250 requests
  const watch: typeof deskWatch = { tasks: [], usable: undefined };
  globalThis.deskWatch = watch;
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) watch.tasks.push({ lasted: duration });
  }).observe({ type: 'longtask', buffered: true });
  let was = false;
  new MutationObserver(() => {
    const isRead = document.querySelector('main[aria-busy=false]') !== null;
    const isUsable = isRead && document.querySelector('[aria-busy=true]') === null;
    if (isUsable && !was) watch.usable = performance.now();
    was = isUsable;
  }).observe(document, { subtree: true, childList: true, attributes: true, attributeFilter: ['aria-busy'] });
}

export const watch = (page: Page): Promise<unknown> => page.addInitScript(beginWatching);

export const readWatch = (page: Page): Promise<Watched> =>
  page.evaluate(() => {
    const resources = performance.getEntriesByType('resource') as PerformanceResourceTiming[];
    const documents = performance.getEntriesByType('navigation') as PerformanceResourceTiming[];
    const sent = [...documents, ...resources].map((one) => ({
      ...{ path: new URL(one.name).pathname, bytes: one.transferSize },
      ...{ began: one.startTime, ended: one.responseEnd },
    }));
    return { sent, ...globalThis.deskWatch };
  });

/** The requests to the API one after another, each of which began only when another had its answer: the longest such chain. */
export function roundsOf(sent: readonly Sent[]): number {
  const api = sent.filter(({ path }) => path.startsWith('/api/')).sort((a, b) => a.began - b.began);
  const rounds: { ended: number; round: number }[] = [];
  for (const { began, ended } of api) {
    const before = rounds.filter((one) => one.ended <= began).map(({ round }) => round);
    rounds.push({ ended, round: Math.max(0, ...before) + 1 });
  }
  return Math.max(0, ...rounds.map(({ round }) => round));
}

export const longestOf = (tasks: Watched['tasks']): number => Math.max(0, ...tasks.map(({ lasted }) => lasted));
