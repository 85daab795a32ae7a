import type { PaperKind } from './contents.js';

/** Draws papers: in this thread, or in one of its own (thread-renderer.ts). */
export interface Renderer {
  /** @throws as `render` does */
  render(kind: PaperKind, content: unknown, logo: Uint8Array | null): Promise<Uint8Array>;
}

/** For what has no program around it. pdfkit is read with the first paper, so that a program which draws none starts sooner. */
export const inThisThread: Renderer = {
  render: async (...asked) => (await import('./render.js')).render(...asked),
};

/** What is handed to the thread. */
export interface Asked {
  kind: PaperKind;
  content: unknown;
  logo: Uint8Array | null;
}

/** What comes back: a paper, what is wrong with its content, or another error. */
export type Answered = { pdf: Uint8Array } | { issues: unknown[] } | { error: unknown };
