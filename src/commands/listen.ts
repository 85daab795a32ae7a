import type { Config } from '../config.js';
import { CannotStart } from '../config.js';
import type { App } from '../server/app.js';

/** Listens where the configuration says. @returns the address for people @throws CannotStart where that can't be */
export async function listen(app: App, { host, port, baseUrl }: Config): Promise<string> {
  try {
    const address = await app.listen({ host, port });
    return baseUrl ?? address;
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'EADDRINUSE')
      throw new CannotStart(
        `Port ${port} is in use. Stop the program that uses it, or choose another: PORT=${port + 1}.`,
      );
    if (code === 'EACCES')
      throw new CannotStart(`Port ${port} is reserved for root. Choose one above 1023: PORT=4747.`);
    if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND')
      throw new CannotStart(
        `HOST is not an address of this machine. 127.0.0.1 serves this machine alone, 0.0.0.0 everyone who can reach it.`,
      );
    throw error;
  }
}

/** Waits for Ctrl-C or a polite kill. A second one ends the process at once. */
export function waitForStopSignal(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      let asked = false;
      process.on(signal, () => {
        if (asked) process.exit(130);
        asked = true;
        resolve();
      });
    }
  });
}
