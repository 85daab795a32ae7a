import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { ListQuery } from '../../http/paging.js';
import { Email, Id, LocalDate, SingleLine } from '../../http/types.js';

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
  })
  .meta({ id: 'Person' });
export type Person = z.output<typeof Person>;

export const PersonQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of the name, the email address or the phone number.' }),
  kind: z.enum(['member', 'student', 'maker']).optional().meta({
    description: 'Who is a member, who has had a place on a course, or of whom there is ware.',
  }),
  order: z.enum(['oldest', 'name']).default('oldest'),
});
export type PersonQuery = z.output<typeof PersonQuery>;
