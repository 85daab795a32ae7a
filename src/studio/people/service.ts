import { inOrder } from '../../database/find-page.js';
import { changed, once, type Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { unprintable } from '../../documents/fonts.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import type { KnownPerson, NewPerson, Person, PersonQuery } from './contract.js';
import { findMergedInto, findPeople, lockPersonRow, readPeople } from './queries.js';

const kept = ({ memberSince, ...person }: NewPerson) => ({
  ...person,
  memberSince: memberSince === null ? null : toDate(memberSince),
});

export async function addPerson(tx: Transaction, now: Date, wanted: NewPerson): Promise<Person> {
  const { id } = await tx.person.create({
    data: { id: newId(), ...kept(wanted), createdAt: now },
    select: { id: true },
  });
  return getPerson(tx, id);
}

/** Adds many at once; as with one, two may bear the same name. */
export async function addPeople(tx: Transaction, now: Date, wanted: readonly NewPerson[]): Promise<void> {
  await tx.person.createMany({ data: wanted.map((one) => ({ id: newId(), ...kept(one), createdAt: now })) });
}

/** The person as they stand, whom nobody else can change until the transaction ends. */
export async function lockPerson(tx: Transaction, id: string): Promise<Person> {
  await lockPersonRow(tx, id);
  changed(tx, keyOf(id));
  return getPerson(tx, id);
}

/** Replaces all that is said of a person. Papers that were issued keep the name they bear. */
export async function changePerson(tx: Transaction, id: string, wanted: NewPerson): Promise<Person> {
  await getPerson(tx, id);
  await tx.person.update({ where: { id }, data: kept(wanted), select: { id: true } });
  changed(tx, keyOf(id));
  return getPerson(tx, id);
}

const keyOf = (id: string) => `person ${id}`;

export function getPerson(tx: Transaction, id: string): Promise<Person> {
  return once(tx, keyOf(id), () => readPerson(tx, id));
}

async function readPerson(tx: Transaction, id: string): Promise<Person> {
  const [person] = await readPeople(tx, [id]);
  return person ? show(person) : refuseMissing(tx, id);
}

/** As their address shows them, and as they can be sent back changed. */
const show = ({ lacksGuardian: _, ...person }: KnownPerson): Person => person;

/** @throws Problem merged where the entry is part of another person's now, not-found where there never was one */
async function refuseMissing(tx: Transaction, id: string): Promise<never> {
  const into = await findMergedInto(tx, id);
  if (into)
    throw new Problem('merged', `This entry was merged into that of ${into.name}. Choose ${into.name} instead.`, {
      personId: into.id,
      ...see('people', `/api/people/${into.id}`),
    });
  throw new Problem('not-found', 'Nobody has this id. Look for them on the page People.', see('people', '/api/people'));
}

/** The person at an address, which leads on to whom they were merged into. */
export async function getPersonAt(tx: Transaction, id: string): Promise<Person> {
  const [person] = await readPeople(tx, [id]);
  return person ? show(person) : getPerson(tx, (await findMergedInto(tx, id))?.id ?? id);
}

/** Several people, in the order in which they are named. @throws Problem not-found where one of them is unknown */
export async function getPeople(
  tx: Transaction,
  [first, ...others]: readonly [string, ...string[]],
): Promise<[KnownPerson, ...KnownPerson[]]> {
  const byId = new Map((await readPeople(tx, [first, ...others])).map((person) => [person.id, person]));
  const of = async (id: string) => byId.get(id) ?? (await refuseMissing(tx, id));
  const found: [KnownPerson, ...KnownPerson[]] = [await of(first)];
  for (const id of others) found.push(await of(id));
  return found;
}

/** How papers spell a person's name. @throws Problem unprintable where the font lacks its letters and no other spelling is known */
export function printedName({ id, name, paperName }: Pick<Person, 'id' | 'name' | 'paperName'>): string {
  if (paperName !== null) return paperName;
  if (unprintable(name).length === 0) return name;
  throw new Problem(
    'unprintable',
    `Papers print Latin, Greek and Cyrillic letters, and “${name}” has others. Enter how papers should spell this name, then try again; nothing was saved.`,
    { personId: id },
  );
}

/** Everybody, or those whom a few words, a phone number or the code of a piece mean. */
export async function listPeople(tx: Transaction, now: Date, query: PersonQuery) {
  const { ids, ...found } = await findPeople(tx, now, query);
  return { items: inOrder(ids, await readPeople(tx, ids)).map(show), ...found };
}
