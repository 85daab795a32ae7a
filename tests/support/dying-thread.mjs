// A thread that answers as its content says, for tests of what hands papers to it.
import { parentPort } from 'node:worker_threads';

const WAYS = {
  well: () => parentPort.postMessage({ pdf: new Uint8Array([1]) }),
  exits: () => process.exit(3),
  throws: () => {
    throw new Error('planted');
  },
  outgrows: () => {
    const grown = [];
    for (;;) grown.push(new Array(100_000).fill(grown.length));
  },
  hangs: () => {
    for (;;);
  },
};
parentPort.on('message', ({ content }) => WAYS[content]());
