import { z } from 'zod';
import { Id, Instant } from '../../http/types.js';
import { type NewPerson, Person } from '../people/contract.js';

/** What of a person has two values once two entries become one. */
const FIELDS = [
  ...(['name', 'paperName', 'email', 'phone', 'addressLines', 'memberSince', 'isChild', 'wishes', 'note'] as const),
] as const satisfies readonly (keyof NewPerson)[];
export const MergedField = z.enum(FIELDS);
export type MergedField = z.output<typeof MergedField>;

export const NewMerge = z
  .strictObject({
    otherId: Id.meta({
      description: 'The entry that goes: all that is its becomes that of the person of the address.',
    }),
    take: z.array(MergedField).max(FIELDS.length).optional().meta({
      description:
        'What is taken from the entry that goes. If left out: whatever the one who stays lacks, and the earlier day of joining.',
    }),
  })
  .meta({ id: 'NewMerge' });
export type NewMerge = z.output<typeof NewMerge>;

/** What rows of a person are, in the order in which they are told. */
export const MOVED = [
  ...([
    'bookings',
    'places',
    'cancelledPlaces',
    'waits',
    'makeUps',
    'attendances',
    'charges',
    'payments',
    'postings',
  ] as const),
  ...([
    'vouchers',
    'letters',
    'pieces',
    'firingShares',
    'firingBills',
    'careNotes',
    'consents',
    'careNoteChanges',
    'calendarEntries',
    'merges',
    'memberships',
  ] as const),
  'other',
] as const;
const Moved = z.object({ what: z.enum(MOVED), rows: z.int() });
export type Moved = z.output<typeof Moved>;

const BalanceMinor = z.int().meta({ description: 'What is owed by the books; below zero, what the studio owes.' });

/** An entry that became part of another. */
export const Merge = z
  .object({
    id: Id.meta({ description: 'That of the entry that went; its address leads on.' }),
    was: Person.meta({ description: 'What was known of it.' }),
    intoWas: Person.meta({ description: 'What was known of the one who stays, before.' }),
    mergedAt: Instant,
    mergedBy: z.string(),
    moved: z.array(Moved).meta({ description: 'What went over to the one who stays.' }),
    balanceMinor: BalanceMinor,
    intoBalanceMinor: BalanceMinor,
  })
  .meta({ id: 'Merge' });
export type Merge = z.output<typeof Merge>;

export const MergeOutcome = z
  .object({
    person: Person.meta({ description: 'The one who stays, as they are now.' }),
    taken: z.array(MergedField).meta({ description: 'What came from the entry that went.' }),
    merge: Merge,
    balanceMinor: BalanceMinor.meta({ description: 'What they owe now: the sum of both.' }),
  })
  .meta({ id: 'MergeOutcome' });
export type MergeOutcome = z.output<typeof MergeOutcome>;

const Double = z
  .object({
    one: Person.meta({ description: 'The one who was entered first.' }),
    other: Person,
    same: z
      .array(z.enum(['name', 'email', 'phone']))
      .meta({ description: 'What both have, whatever case, accents or spaces.' }),
  })
  .meta({ id: 'Double' });

/** So many are told at once; those that are merged or told apart make room for the rest. */
export const DOUBLES_MAX = 20;

export const Doubles = z
  .object({
    items: z.array(Double),
    more: z.boolean().meta({ description: `There are more than the ${DOUBLES_MAX} that are told.` }),
  })
  .meta({ id: 'Doubles', description: 'Entries that may be of one person. Nothing is merged by itself.' });
export type Doubles = z.output<typeof Doubles>;

export const NewDistinction = z
  .strictObject({ otherId: Id.meta({ description: 'Somebody else, whatever they have in common.' }) })
  .meta({ id: 'NewDistinction' });

export const Distinction = z
  .object({ personId: Id, otherId: Id, notedAt: Instant })
  .meta({ id: 'Distinction', description: 'Two who are not one: they are not suggested again.' });
export type Distinction = z.output<typeof Distinction>;
