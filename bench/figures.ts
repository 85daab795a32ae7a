import { appendFileSync } from 'node:fs';

/** Notes what was measured for the table of `npm run bench:all`, which names the file in FIGURES; without it nothing is noted. */
export function figure(name: string, value: string): void {
  const { FIGURES } = process.env;
  if (FIGURES) appendFileSync(FIGURES, `${JSON.stringify([name, value])}\n`);
}
