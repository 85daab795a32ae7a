// How the report is set: plain text that a terminal of 120 columns shows without wrapping.

export type TextColumn = { head: string; align?: 'right'; max?: number };

/** A table with its columns as wide as what stands in them; what is longer than `max` continues on lines of its own. */
export function table(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string {
  const wrapped = rows.map((row) => row.map((cell, i) => wrap(cell, columns[i]?.max ?? Number.POSITIVE_INFINITY)));
  const widths = columns.map(({ head }, i) =>
    Math.max(head.length, ...wrapped.flatMap((row) => (row[i] ?? []).map((l) => l.length))),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) => (columns[i]?.align === 'right' ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
      .join('  ')
      .trimEnd();
  const body = wrapped.flatMap((row) => {
    const height = Math.max(...row.map((cell) => cell.length));
    return Array.from({ length: height }, (_, i) => line(row.map((cell) => cell[i] ?? '')));
  });
  const rule = widths.map((width) => '-'.repeat(width)).join('  ');
  return [line(columns.map(({ head }) => head)), rule, ...body].map((text) => `  ${text}`).join('\n');
}

function wrap(text: string, width: number): string[] {
  const lines: string[] = [''];
  for (const word of text.split(' ')) {
    const last = lines.at(-1) ?? '';
    if (last !== '' && last.length + 1 + word.length > width) lines.push(word);
    else lines[lines.length - 1] = last === '' ? word : `${last} ${word}`;
  }
  return lines;
}

/** A section: its question, its answer in a sentence, and what it is made of. */
export function section(question: string, answer: string, ...parts: string[]): string {
  const WIDTH = 96;
  const asked = `${question}\n${'='.repeat(question.length)}`;
  return [asked, wrap(answer, WIDTH).join('\n'), ...parts].join('\n\n');
}

export const noteText = (text: string) =>
  wrap(text, 92)
    .map((line) => `  ${line}`)
    .join('\n');

/** So much of a material, as one says it. */
export const AMOUNT = {
  g: (n: number) => `${(n / 1000).toFixed(2)} kg`,
  ml: (n: number) => `${n} ml`,
  piece: (n: number) => `${n}`,
};

/** Amounts as they are written in a table, and in a sentence. */
export type Money = { inTable: (minor: number) => string; inText: (minor: number) => string };
