import type { Person } from './queries';

/** How somebody is called where people are chosen from. */
export type Named = { id: string; called: string };

/** Everybody by a name that only they have: with their email where two have the same. */
export function namesOf(people: readonly Pick<Person, 'id' | 'name' | 'email'>[]): Named[] {
  const times = new Map<string, number>();
  for (const { name } of people) times.set(name, (times.get(name) ?? 0) + 1);
  return people.map(({ id, name, email }) => ({
    id,
    called: times.get(name) === 1 || !email ? name : `${name}, ${email}`,
  }));
}
