const WIDTH = 72;

/**
 * Breaks plain text at 72 columns. Lines that begin with spaces go on under their own beginning; a word that is longer than
 * a line stays whole, since a broken link leads nowhere.
 */
export function wrap(text: string): string {
  return text.split('\n').map(wrapLine).join('\n');
}

function wrapLine(line: string): string {
  const indent = /^ */.exec(line)?.[0] ?? '';
  const lines: string[] = [];
  let current = '';
  for (const word of line.slice(indent.length).trimEnd().split(/ +/)) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (current !== '' && [...indent, ...longer].length > WIDTH) {
      lines.push(indent + current);
      current = word;
    } else current = longer;
  }
  lines.push(current === '' ? '' : indent + current);
  return lines.join('\n');
}
