import { z } from 'zod';
import { LocalDate, SingleLine } from '../../../http/types.js';
import { Paper } from '../../accounts/list-contract.js';
import { ListedCourse } from '../../courses/contract.js';
import { Person } from '../../people/contract.js';
import { ListedPiece } from '../../ware/contract.js';

/** So many of each are shown; a list shows the rest. */
export const SHOWN_MAX = 6;

const found = <T extends z.ZodType>(item: T) =>
  z
    .object({ items: z.array(item), more: z.boolean().meta({ description: 'There are more: see the list.' }) })
    .nullable();

const FoundPerson = Person.pick({ id: true, name: true, email: true, phone: true });
const FoundPiece = ListedPiece.pick({
  ...{ id: true, code: true, makerId: true, makerName: true, form: true, description: true },
  ...{ stage: true, boardName: true, courseTitle: true },
});
const FoundCourse = ListedCourse.pick({ id: true, title: true, planName: true, state: true }).extend({
  firstDay: LocalDate,
});

export const SearchQuery = z.strictObject({ q: SingleLine(80) });

export const Found = z
  .object({
    people: found(FoundPerson),
    pieces: found(FoundPiece),
    courses: found(FoundCourse),
    papers: found(Paper),
    mistypedCode: z
      .object({
        said: z.string(),
        pieces: z.array(FoundPiece.extend({ wrongSign: z.int().meta({ description: 'Counted from 1.' }) })),
      })
      .nullable()
      .meta({ description: 'Where what was typed differs by one sign from the codes of pieces.' }),
  })
  .meta({
    id: 'Found',
    description: `At most ${SHOWN_MAX} of each, the best match first; null where you have no right to see such things.`,
  });
export type Found = z.output<typeof Found>;
