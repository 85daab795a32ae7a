import { Worker } from 'node:worker_threads';
import { z } from 'zod';
import { Problem } from '../problems.js';
import type { PaperKind } from './contents.js';
import type { Answered, Asked, Renderer } from './renderer.js';

/** Papers that may wait: five times as many as a studio writes in a year. */
const WAITING_MAX = 1000;
/** For what hangs: the longest paper there may be takes seconds. */
const HANGS_AFTER_MILLISECONDS = 600_000;
/** What takes more ends its thread, and not the program. */
const HEAP_MEGABYTES_MAX = 512;

/** As it is built. Whoever runs the sources names a thread that can read TypeScript. */
const THREAD = new URL('./render-thread.js', import.meta.url);

interface Settings {
  /** What the thread is started from. */
  thread?: URL;
  waitingMax?: number;
  hangsAfterMilliseconds?: number;
}

interface Waiting {
  asked: Asked;
  resolve(pdf: Uint8Array): void;
  reject(error: unknown): void;
}

/**
 * Draws papers in a thread of its own, one after another, so that whoever asks for something else does not wait for them. The thread
 * starts with the first paper. Where it dies, the paper that it was at fails, and another thread goes on with the next.
 */
export class ThreadRenderer implements Renderer {
  readonly #settings: Settings;
  readonly #waiting: Waiting[] = [];
  #current: Waiting | null = null;
  #worker: Worker | null = null;
  #watch: NodeJS.Timeout | undefined;
  #isClosing = false;
  #tellIdle: (() => void)[] = [];

  constructor(settings: Settings = {}) {
    this.#settings = settings;
  }

  /** @throws Problem papers-busy where too many wait, unexpected where the thread died; else as `render` in this thread */
  render(kind: PaperKind, content: unknown, logo: Uint8Array | null): Promise<Uint8Array> {
    const { waitingMax = WAITING_MAX } = this.#settings;
    if (this.#isClosing) return Promise.reject(refusal('The program is stopping. Open the paper once it runs again.'));
    if (this.#waiting.length >= waitingMax) return Promise.reject(refusal(TOO_MANY));
    return new Promise((resolve, reject) => {
      this.#waiting.push({ asked: { kind, content, logo }, resolve, reject });
      this.#next();
    });
  }

  /** Ends the thread once the papers that were asked for are written; no more are taken. */
  async close(): Promise<void> {
    this.#isClosing = true;
    if (this.#current) await new Promise<void>((resolve) => this.#tellIdle.push(resolve));
    const worker = this.#worker;
    this.#worker = null;
    await worker?.terminate();
  }

  #next(): void {
    if (this.#current) return;
    const next = this.#waiting.shift();
    if (!next) {
      this.#worker?.unref(); // a program that has nothing else to do may end
      for (const tell of this.#tellIdle.splice(0)) tell();
      return;
    }
    this.#current = next;
    try {
      this.#worker ??= this.#start();
      this.#worker.ref();
      this.#worker.postMessage(next.asked);
    } catch (error) {
      this.#settle(() => next.reject(error)); // no thread could be started, or the content is none that can be handed over
      return;
    }
    const { hangsAfterMilliseconds = HANGS_AFTER_MILLISECONDS } = this.#settings;
    this.#watch = setTimeout(() => this.#died(this.#worker, { code: 'HANGS' }), hangsAfterMilliseconds);
  }

  #start(): Worker {
    const { thread = THREAD } = this.#settings;
    const resourceLimits = { maxOldGenerationSizeMb: HEAP_MEGABYTES_MAX };
    const worker = new Worker(thread, { resourceLimits });
    worker.on('message', (answered: Answered) => this.#answered(worker, answered));
    worker.on('messageerror', () => this.#died(worker, { code: 'UNREADABLE' }));
    worker.on('error', (error: { code?: string }) => this.#died(worker, error));
    worker.on('exit', (code) => this.#died(worker, { code: `exit ${code}` }));
    return worker;
  }

  #answered(worker: Worker, answered: Answered): void {
    const current = this.#current;
    if (worker !== this.#worker || !current) return;
    this.#settle(() => {
      if ('pdf' in answered) current.resolve(answered.pdf);
      else
        current.reject(
          'issues' in answered ? new z.ZodRealError(answered.issues as z.core.$ZodIssue[]) : answered.error,
        );
    });
  }

  #died(worker: Worker | null, { code }: { code?: string }): void {
    if (worker !== this.#worker || !worker) return; // told of already, or ended by us
    this.#worker = null;
    worker.terminate().catch(() => undefined);
    const problem = new Problem('unexpected', DIED);
    this.#settle(() => this.#current?.reject(Object.assign(problem, { code })));
  }

  /** Gives the paper that was being written its end, and goes on with the next. */
  #settle(end: () => void): void {
    clearTimeout(this.#watch);
    end();
    this.#current = null;
    this.#next();
  }
}

const refusal = (detail: string) => new Problem('papers-busy', detail);

const TOO_MANY = 'Too many papers are waiting to be written. Nothing is lost: open this one again in a few minutes.';
const DIED =
  'This paper was not finished: what writes papers stopped in the middle of it, and was started again. Nothing is lost. Open the paper again; if that keeps happening, the log says why.';
