import { z } from 'zod';

export const ImportProblem = z
  .object({
    row: z.int().meta({ description: 'As a spreadsheet numbers it: the headings are row 1.' }),
    column: z.string().nullable().meta({ description: 'Its heading; null: the row as a whole.' }),
    detail: z.string().meta({ description: 'What is wrong, and what to do.' }),
  })
  .meta({ id: 'ImportProblem' });
export type ImportProblem = z.output<typeof ImportProblem>;

export const ImportCheck = z
  .object({
    rows: z.int().meta({ description: 'Read, without the headings and without empty rows.' }),
    adds: z
      .array(z.object({ row: z.int(), what: z.string() }))
      .meta({ description: 'What would be added; as long as there is a problem, nothing would.' }),
    problems: z.array(ImportProblem).meta({ description: 'Every one, by row.' }),
  })
  .meta({ id: 'ImportCheck' });
export type ImportCheck = z.output<typeof ImportCheck>;

export const Imported = z.object({ added: z.int() }).meta({ id: 'Imported' });

export const ImportColumns = z
  .object({
    rowsMax: z.int(),
    bytesMax: z.int(),
    columns: z.array(
      z.object({
        heading: z.string(),
        means: z.string(),
        needed: z.boolean(),
        example: z.string(),
      }),
    ),
  })
  .meta({ id: 'ImportColumns' });
