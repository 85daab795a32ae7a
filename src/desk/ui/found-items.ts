import type { Schemas } from '../api/client';
import type { Formatter } from '../format/formatter';
import { paperCalled } from '../format/paper';
import { stageCalled } from '../format/piece';

export type Found = Schemas['Found'];

/** What can be chosen in the find box; `value` is where it leads. */
export type FoundItem = { value: string; label: string; detail: string };
export type FoundGroup = { name: string; items: FoundItem[] };

/** What was found, by noun; of what there is more, the last item leads to the list that shows it all. */
export function groupsFound(found: Found, q: string, { fullDate }: Pick<Formatter, 'fullDate'>): FoundGroup[] {
  const { people, pieces, courses, papers, mistypedCode } = found;
  const all = (to: string, label: string) => ({ value: `${to}q=${encodeURIComponent(q)}`, label, detail: '' });
  const meant = (mistypedCode?.pieces ?? []).map((piece) => ({
    ...pieceItem(piece),
    detail: `sign ${piece.wrongSign} differs; ${piece.makerName}`,
  }));
  const groups = [
    { name: 'Perhaps', items: meant },
    group('People', people, ({ id, name, email, phone }) => ({
      ...{ value: `/people/${id}`, label: name, detail: email ?? phone ?? '' },
    })),
    group('Ware', pieces, pieceItem),
    group('Courses', courses, ({ id, title, planName, firstDay }) => ({
      ...{ value: `/courses/${id}`, label: title },
      detail: planName === title ? fullDate(firstDay) : `${planName}, ${fullDate(firstDay)}`,
    })),
    group('Papers', papers, (paper) => ({
      ...{ value: `/api/documents/${paper.documentId}/pdf`, label: paperCalled(paper), detail: paper.name },
    })),
  ];
  const lists: Record<string, FoundItem | false | undefined> = {
    People: people?.more && all('/people?', 'All people found'),
    Ware: pieces?.more && all('/ware?which=all&', 'All ware found'),
    Courses: courses?.more && all('/courses?when=all&', 'All courses found'),
    Papers: papers?.more && all('/money/papers?', 'All papers found'),
  };
  const seen = new Set<string>();
  return groups
    .map(({ name, items }) => ({ name, items: [...items, ...(lists[name] ? [lists[name]] : [])] }))
    .map(({ name, items }) => ({ name, items: items.filter(({ value }) => !seen.has(value) && seen.add(value)) }))
    .filter(({ items }) => items.length > 0);
}

type FoundPiece = NonNullable<Found['pieces']>['items'][number];

const pieceItem = ({ id, code, description, makerName, stage }: FoundPiece): FoundItem => ({
  ...{ value: `/ware/${id}`, label: `${code}, ${description}`, detail: `${makerName}, ${stageCalled(stage)}` },
});

function group<T>(name: string, of: { items: T[] } | null, item: (row: T) => FoundItem): FoundGroup {
  return { name, items: (of?.items ?? []).map(item) };
}

/** What is said above what was found; nothing where that speaks for itself. */
export function saidOf(found: Found, q: string, groups: readonly FoundGroup[]): string {
  if (found.mistypedCode) return found.mistypedCode.said;
  return groups.length === 0 ? `Nothing is found for “${q}”. Try fewer letters.` : '';
}
