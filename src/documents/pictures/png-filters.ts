// Filter types of the PNG specification, section 9: each byte is told by what it differs from its neighbours.

const paeth = (left: number, up: number, corner: number): number => {
  const guess = left + up - corner;
  const [toLeft, toUp, toCorner] = [Math.abs(guess - left), Math.abs(guess - up), Math.abs(guess - corner)];
  return toLeft <= toUp && toLeft <= toCorner ? left : toUp <= toCorner ? up : corner;
};

type Guess = (left: number, up: number, corner: number) => number;
const GUESSES: readonly Guess[] = [() => 0, (left) => left, (_, up) => up, (left, up) => (left + up) >> 1, paeth];

/**
 * Undoes the filters of some lines in place, each of which begins with the number of its filter.
 *
 * @param step how many bytes before a byte that of the pixel on its left stands
 * @returns false where a line names no filter that there is
 */
export function unfilter(lines: Buffer, rowBytes: number, step: number): boolean {
  const stride = rowBytes + 1;
  for (let start = 0; start < lines.length; start += stride) {
    const guess = GUESSES[lines[start] ?? 0];
    if (guess === undefined) return false;
    for (let i = 1; i <= rowBytes; i++) {
      const at = start + i;
      const left = i > step ? (lines[at - step] ?? 0) : 0;
      const up = start > 0 ? (lines[at - stride] ?? 0) : 0;
      const corner = start > 0 && i > step ? (lines[at - stride - step] ?? 0) : 0;
      lines[at] = (lines[at] ?? 0) + guess(left, up, corner);
    }
  }
  return true;
}

/** Filters lines of pixels, each by the filter that leaves the smallest differences, as the specification advises in 12.7. */
export function filter(pixels: Buffer, rowBytes: number, step: number): Buffer {
  const rows = pixels.length / rowBytes;
  const filtered = Buffer.alloc(rows * (rowBytes + 1));
  for (let row = 0; row < rows; row++) {
    const line = pixels.subarray(row * rowBytes, (row + 1) * rowBytes);
    const above = row === 0 ? Buffer.alloc(rowBytes) : pixels.subarray((row - 1) * rowBytes, row * rowBytes);
    const tried = GUESSES.map((guess) =>
      line.map((value, i) => value - guess(line[i - step] ?? 0, above[i] ?? 0, above[i - step] ?? 0)),
    );
    const sizes = tried.map((one) => one.reduce((sum, value) => sum + Math.min(value, 256 - value), 0));
    const best = sizes.indexOf(Math.min(...sizes));
    filtered[row * (rowBytes + 1)] = best;
    filtered.set(tried[best] as Uint8Array, row * (rowBytes + 1) + 1);
  }
  return filtered;
}
