import type { CDPSession } from 'playwright-core';

/** The longest task of the page's main thread: as the clock saw it, and what the processor worked on it. Milliseconds. */
export type LongestTask = { lasted: number; worked: number };

type TraceEvent = {
  name: string;
  ph: string;
  pid: number;
  tid: number;
  dur?: number;
  tdur?: number;
};

/**
 * Runs `work` and tells the longest tasks of the page meanwhile. On a machine that others load, a task lasts while others have the
 * processor; the thread's own clock says how long it worked itself. A slower processor's pauses count as work.
 */
export async function longestTask(cdp: CDPSession, work: () => Promise<void>): Promise<LongestTask> {
  const events: TraceEvent[] = [];
  const note = ({ value }: { value: unknown[] }) => events.push(...(value as TraceEvent[]));
  cdp.on('Tracing.dataCollected', note);
  await cdp.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: { includedCategories: ['toplevel', 'devtools.timeline'] },
  });
  await work();
  const complete = new Promise((resolve) => cdp.once('Tracing.tracingComplete', resolve));
  await cdp.send('Tracing.end');
  await complete;
  cdp.off('Tracing.dataCollected', note);
  const page = events.find(({ name, ph }) => name === 'EventDispatch' && ph === 'X'); // another process has a main thread too
  const own = events.filter(({ pid, tid }) => pid === page?.pid && tid === page.tid);
  const tasks = own.filter(({ name, ph }) => name.endsWith('RunTask') && ph === 'X');
  if (tasks.length === 0) throw new Error('No task of the page was seen while a slider was dragged.');
  const most = (of: (task: TraceEvent) => number | undefined) =>
    Math.max(...tasks.map((task) => (of(task) ?? 0) / 1000));
  return { lasted: most(({ dur }) => dur), worked: most(({ tdur }) => tdur) };
}
