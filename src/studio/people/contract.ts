import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { ListQuery } from '../../http/paging.js';
import { Email, Id, LocalDate, SingleLine, Text } from '../../http/types.js';

/** Some lines about a person. */
const Remark = Text(1000)
  .transform((said) => said.trim())
  .refine((said) => said !== '', 'must say something, or be left out');

export const NewPerson = z
  .strictObject({
    name: SingleLine().meta({ description: 'As the person writes it, in any script.' }),
    paperName: PrintedLine().nullable().default(null).meta({
      description:
        'How papers spell it, in Latin, Greek or Cyrillic letters. Needed once a paper is issued to somebody whose name has others.',
    }),
    email: Email.nullable().default(null),
    phone: SingleLine(40).nullable().default(null),
    addressLines: z.array(PrintedLine()).max(8).default([]),
    memberSince: LocalDate.nullable().default(null),
    isChild: z.boolean().default(false).meta({ description: 'Somebody for whom a guardian answers.' }),
    wishes: Remark.nullable().default(null).meta({ description: 'What they would like: courses, days, a next step.' }),
    note: Remark.nullable().default(null).meta({
      description: 'For the studio; tutors see it too. What concerns health and access has a place of its own.',
    }),
  })
  .meta({ id: 'NewPerson' });
export type NewPerson = z.output<typeof NewPerson>;

export const Person = z
  .object({
    id: Id,
    name: z.string(),
    paperName: z.string().nullable(),
    email: z.string().nullable(),
    phone: z.string().nullable(),
    addressLines: z.array(z.string()),
    memberSince: LocalDate.nullable(),
    isChild: z.boolean(),
    wishes: z.string().nullable(),
    note: z.string().nullable(),
  })
  .meta({ id: 'Person' });
export type Person = z.output<typeof Person>;
/** With what a booking has to know of them: whether they are a child of whom nobody is noted who answers for them. */
export type KnownPerson = Person & { lacksGuardian: boolean };

/** So many are noted of a child at most. */
const GUARDIANS_MAX = 4;

export const NewGuardians = z
  .strictObject({
    guardianIds: z
      .array(Id)
      .max(GUARDIANS_MAX)
      .refine((ids) => new Set(ids).size === ids.length, 'must not name anybody twice')
      .meta({ description: 'People of yours, the one first who is to be rung first.' }),
  })
  .meta({ id: 'NewGuardians' });
export type NewGuardians = z.output<typeof NewGuardians>;

export const Guardian = z
  .object({ personId: Id, name: z.string(), phone: z.string().nullable(), email: z.string().nullable() })
  .meta({ id: 'Guardian' });
export type Guardian = z.output<typeof Guardian>;

export const Guardians = z
  .object({
    guardians: z.array(Guardian).meta({
      description:
        'Whom to ring, in that order. Letters to the child go to the first of them who has an email address.',
    }),
    guardianOf: z.array(z.object({ personId: Id, name: z.string() })),
  })
  .meta({ id: 'Guardians' });
export type Guardians = z.output<typeof Guardians>;

export const PersonQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({
    description:
      'Words of the name or the email address, a phone number or a part of it, or the code of a piece of theirs.',
  }),
  kind: z.enum(['member', 'student', 'maker']).optional().meta({
    description: 'Who is a member, who has had a place on a course, or of whom there is ware.',
  }),
  order: z.enum(['oldest', 'name']).default('oldest'),
});
export type PersonQuery = z.output<typeof PersonQuery>;
