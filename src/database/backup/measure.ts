import { createHash } from 'node:crypto';
import { Transform } from 'node:stream';

const NEWLINE = 10;

/** Lets bytes pass and measures them: their number, their lines (a row each: COPY writes a line break within a value as \n) and SHA-256. */
export function measure() {
  const hash = createHash('sha256');
  let bytes = 0;
  let rows = 0;
  const through = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      hash.update(chunk);
      bytes += chunk.length;
      for (let at = chunk.indexOf(NEWLINE); at >= 0; at = chunk.indexOf(NEWLINE, at + 1)) rows++;
      done(null, chunk);
    },
  });
  return { through, result: () => ({ rows, bytes, sha256: hash.digest('hex') }) };
}

export const sha256Of = (text: string): string => createHash('sha256').update(text).digest('hex');
