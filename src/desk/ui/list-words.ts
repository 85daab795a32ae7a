import { capital, count } from '../format/formatter';

/** How many there are, or match, as a sentence. */
export function answerOf(
  { total, totalIsMinimum }: { total: number; totalIsMinimum: boolean },
  [one, more]: readonly [string, string],
  isNarrowed: boolean,
): string {
  const said = totalIsMinimum ? `more than ${total} ${more}` : count(total, one, more);
  return `${capital(said)}${isNarrowed ? (total === 1 ? ' matches' : ' match') : ''}.`;
}

/** Rows that follow one another under the same heading. */
export function groupsOf<T>(items: readonly T[], headingOf?: (row: T) => string): { heading?: string; items: T[] }[] {
  if (!headingOf) return [{ items: [...items] }];
  const groups: { heading: string; items: T[] }[] = [];
  for (const item of items) {
    const heading = headingOf(item);
    const last = groups.at(-1);
    if (last?.heading === heading) last.items.push(item);
    else groups.push({ heading, items: [item] });
  }
  return groups;
}
