import type { Transaction } from '../../database/transaction.js';
import { NewPerson } from '../people/contract.js';
import { addPeople } from '../people/service.js';
import { day, text } from './cell-parsers.js';
import { alreadyThere, refuseDuplicates } from './duplicate-rows.js';
import type { ImportEntry, ImportList } from './list.js';

/** As what a person is told from others: there may be two of one name, and two at one address. */
const keyOf = ({ name, email }: { name: string; email: string | null }) => `${name}\n${email?.toLowerCase() ?? ''}`;

export const peopleImport: ImportList<NewPerson> = {
  kind: 'people',
  summary: 'people: students, members, makers who work at home',
  right: 'people:write',
  columns: [
    {
      heading: 'name',
      field: 'name',
      needed: true,
      example: 'Ines Duval',
      means: 'As the person writes it.',
      read: text,
    },
    {
      heading: 'email',
      field: 'email',
      needed: false,
      example: 'ines@example.org',
      means: 'Where to write to.',
      read: text,
    },
    {
      heading: 'phone',
      field: 'phone',
      needed: false,
      example: '07700 900123',
      means: 'As it is dialled.',
      read: text,
    },
    {
      ...{ heading: 'address', field: 'addressLines', needed: false, example: '3 Mill Row | Ostlemere' },
      means: 'Its lines, with a line break or | between them.',
      read: (cell) => cell.split(/\r?\n|\||\r/).flatMap((line) => line.trim() || []),
    },
    {
      ...{ heading: 'member since', field: 'memberSince', needed: false, example: '2024-09-01', read: day },
      means: 'Year-month-day; empty: not a member.',
    },
    {
      ...{ heading: 'name on papers', field: 'paperName', needed: false, example: 'Ines Duval', read: text },
      means: 'In Latin letters, where the name has others; empty: as it is.',
    },
  ],
  contract: NewPerson,
  body: (fields) => fields,
  async unfit(tx, _now, entries) {
    return [...refuseDuplicates(entries, keyOf), ...(await inBooks(tx, entries))];
  },
  inWords: ({ name, email }) => (email ? `${name}, ${email}` : name),
  add: addPeople,
};

async function inBooks(tx: Transaction, entries: readonly ImportEntry<NewPerson>[]) {
  const names = entries.map(({ value }) => value.name);
  const known = await tx.person.findMany({ where: { name: { in: names } }, select: { name: true, email: true } });
  const there = 'Somebody with this name and email address is there already. Leave the row out.';
  return alreadyThere(entries, keyOf, new Set(known.map(keyOf)), null, there);
}
