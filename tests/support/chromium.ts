import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const INSTALLED = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

// Root has no sandbox of its own in a container; what phones home would be refused by a closed network, many times over.
const FLAGS = ['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-sync'];

/** A real Chromium: CHROMIUM_PATH, an installed one, or the one that comes from npm. */
export async function openChromium(flags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ executablePath: await executable(), headless: true, args: [...FLAGS, ...flags] });
}

async function executable(): Promise<string> {
  const found = [process.env.CHROMIUM_PATH ?? '', ...INSTALLED].find((path) => path !== '' && existsSync(path));
  if (found) return found;
  const packed = (await import('@sparticuz/chromium')).default;
  return packed.executablePath();
}
