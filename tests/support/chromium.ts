import { randomUUID } from 'node:crypto';
import { existsSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { type Browser, type BrowserServer, chromium } from 'playwright-core';

const INSTALLED = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'];

/** A name that is no loopback address, though it leads to this machine. */
export const ELSEWHERE = 'wareboard.example';

// Root has no sandbox of its own in a container; what phones home would be refused by a closed network, many times over.
const FLAGS = [
  ...['--no-sandbox', '--disable-gpu', '--no-first-run', '--disable-background-networking', '--disable-sync'],
  `--host-resolver-rules=MAP ${ELSEWHERE} 127.0.0.1`,
];

const PAUSE_MILLISECONDS = 100;

/** For what hangs: launching takes seconds, and more on a machine that others load. */
const HANGS_AFTER_MILLISECONDS = 300_000;

/** A real Chromium: CHROMIUM_PATH, an installed one, or the one that comes from npm. */
export async function openChromium(): Promise<Browser> {
  return chromium.launch(await launchOptions());
}

/** A Chromium that several processes share by way of `url`. One that crashes is launched again at the same address. */
export async function serveChromium(): Promise<{ url: string; stop(): Promise<void> }> {
  const options = { ...(await launchOptions()), host: '127.0.0.1', wsPath: `/${randomUUID()}` };
  let stopping = false;
  let running: Promise<BrowserServer>;
  const watched = (server: BrowserServer) => {
    server.once('close', () => {
      if (!stopping) running = relaunch();
    });
    return server;
  };
  const first = watched(await chromium.launchServer(options));
  running = Promise.resolve(first);
  const url = first.wsEndpoint();
  const relaunch = async (): Promise<BrowserServer> => {
    for (const givingUp = Date.now() + HANGS_AFTER_MILLISECONDS; ; await sleep(PAUSE_MILLISECONDS)) {
      try {
        return watched(await chromium.launchServer({ ...options, port: Number(new URL(url).port) }));
      } catch (error) {
        if (Date.now() > givingUp) throw error; // until then the port may still be that of the one that crashed
      }
    }
  };
  return {
    url,
    stop: async () => {
      stopping = true;
      await (await running).close();
    },
  };
}

/** The Chromium that is served at `url`, which may be just launching. */
export async function connectToChromium(url: string): Promise<Browser> {
  for (const givingUp = Date.now() + HANGS_AFTER_MILLISECONDS; ; await sleep(PAUSE_MILLISECONDS)) {
    try {
      const browser = await chromium.connect(url);
      await (await browser.newContext()).close(); // one that is just crashing still takes a connection, and answers nothing
      return browser;
    } catch (error) {
      if (Date.now() > givingUp) throw error;
    }
  }
}

async function launchOptions() {
  return {
    executablePath: await executable(),
    headless: true,
    args: FLAGS,
    timeout: HANGS_AFTER_MILLISECONDS,
  };
}

async function executable(): Promise<string> {
  const found = [process.env.CHROMIUM_PATH ?? '', ...INSTALLED].find((path) => path !== '' && existsSync(path));
  if (found) return found;
  const packed = (await import('@sparticuz/chromium')).default;
  return packed.executablePath();
}
