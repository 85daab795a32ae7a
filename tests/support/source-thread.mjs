// The thread that writes papers, from these sources: Node reads no TypeScript in a new thread unless it is told how.
import { register } from 'tsx/esm/api';

register();
await import('../../src/documents/render-thread.ts');
