import type { Person } from './queries';

/** How somebody is called where people are chosen from, and the same as it is searched. */
export type Named = { id: string; called: string; searched: string };

/** So many are shown at most to choose from. */
export const MOST_SHOWN = 50;

/** Everybody by a name that only they have: with their email where two have the same. */
export function namesOf(people: readonly Pick<Person, 'id' | 'name' | 'email'>[]): Named[] {
  const times = new Map<string, number>();
  for (const { name } of people) times.set(name, (times.get(name) ?? 0) + 1);
  return people.map(({ id, name, email }) => {
    const called = times.get(name) === 1 || !email ? name : `${name}, ${email}`;
    return { id, called, searched: plain(called) };
  });
}

/** Those in whose name all words occur, as many as are shown, whoever is chosen among them; and how many more there are. */
export function found(named: readonly Named[], words: string, chosenId: string): { shown: Named[]; more: number } {
  const wanted = plain(words).split(/\s+/);
  const all = named.filter(({ id, searched }) => id === chosenId || wanted.every((word) => searched.includes(word)));
  const shown = all.slice(0, MOST_SHOWN);
  const chosen = all.find(({ id }) => id === chosenId);
  if (chosen && !shown.includes(chosen)) shown.push(chosen);
  return { shown, more: all.length - shown.length };
}

/** Without accents and capitals: "Zoë" is found by "zoe". */
const plain = (text: string): string => text.normalize('NFD').replace(/\p{M}/gu, '').toLowerCase().trim();
