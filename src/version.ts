import { createRequire } from 'node:module';

/** The program's version, as package.json names it. */
export const VERSION: string = createRequire(import.meta.url)('../package.json').version;
