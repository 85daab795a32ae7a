import { serveChromium } from '../chromium.js';
import { onceARun } from './once-a-run.js';

declare module 'vitest' {
  interface ProvidedContext {
    chromium: { url: string };
  }
}

export default onceARun('chromium', async () => {
  const { url, stop } = await serveChromium();
  return { value: { url }, stop };
});
