// What runs in the thread of thread-renderer.ts: one paper after another, each answered before the next is handed over.
import { setPriority } from 'node:os';
import { parentPort } from 'node:worker_threads';
import { z } from 'zod';
import { render } from './render.js';
import type { Answered, Asked } from './renderer.js';

const PRIORITY = 10;

// Where processors are few, whoever asks the API goes first. On Linux each thread has a priority; elsewhere it is the whole program's.
if (process.platform === 'linux') setPriority(PRIORITY);

async function answer({ kind, content, logo }: Asked): Promise<Answered> {
  try {
    return { pdf: new Uint8Array(await render(kind, content, logo)) };
  } catch (error) {
    if (error instanceof z.ZodError) return { issues: error.issues }; // an error's own fields are not cloned with it
    return { error };
  }
}

parentPort?.on('message', async (asked: Asked) => {
  const answered = await answer(asked);
  parentPort?.postMessage(answered, 'pdf' in answered ? [answered.pdf.buffer as ArrayBuffer] : []);
});
