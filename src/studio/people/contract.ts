import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Email, Id, Line, LocalDate } from '../../http/types.js';

export const NewPerson = z
  .strictObject({
    name: PrintedLine().meta({ description: 'As it should stand on receipts and notices.' }),
    email: Email.nullable().default(null),
    phone: Line(40).nullable().default(null),
    addressLines: z.array(PrintedLine()).max(8).default([]),
    memberSince: LocalDate.nullable().default(null),
  })
  .meta({ id: 'NewPerson' });
export type NewPerson = z.output<typeof NewPerson>;

export const Person = z
  .object({
    id: Id,
    name: z.string(),
    email: z.string().nullable(),
    phone: z.string().nullable(),
    addressLines: z.array(z.string()),
    memberSince: LocalDate.nullable(),
  })
  .meta({ id: 'Person' });
export type Person = z.output<typeof Person>;
