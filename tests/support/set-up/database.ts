import { startTestServer } from '../server.js';
import { onceARun } from './once-a-run.js';

declare module 'vitest' {
  interface ProvidedContext {
    testServer: { url: string; template: string };
  }
}

export default onceARun('testServer', async () => {
  const { url, template, stop } = await startTestServer();
  return { value: { url, template }, stop };
});
