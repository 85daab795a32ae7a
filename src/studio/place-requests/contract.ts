import { z } from 'zod';
import { ListQuery } from '../../http/paging.js';
import { Email, Id, LocalDate, Minor, SingleLine, UpTo } from '../../http/types.js';

const PLACES_MAX = 20;

export const NewPlaceRequest = z
  .strictObject({
    name: SingleLine(120),
    email: Email,
    phone: SingleLine(40).nullable().default(null),
    places: z.int().min(1).max(PLACES_MAX).default(1),
    note: SingleLine(500).nullable().default(null),
    website: UpTo(200).default('').meta({
      description: 'Left empty by people, who do not see it: what fills it in is a program, and is not kept.',
    }),
  })
  .meta({ id: 'NewPlaceRequest' });
export type NewPlaceRequest = z.output<typeof NewPlaceRequest>;

export const AskedPlaces = z
  .object({ title: z.string(), places: z.int() })
  .meta({ id: 'AskedPlaces', description: "What was asked for. It isn't a booking: the studio answers." });
export type AskedPlaces = z.output<typeof AskedPlaces>;

export const AskableCourse = z
  .object({
    title: z.string(),
    sessions: z.array(z.string()).meta({ description: 'When, in words, by the clock of the studio.' }),
    price: z.string().meta({ description: 'Gross, for one place, in words.' }),
    priceMinor: Minor,
    placesLeft: z.int(),
    studioName: z.string(),
  })
  .meta({ id: 'AskableCourse', description: 'A course that anyone may ask for a place on.' });
export type AskableCourse = z.output<typeof AskableCourse>;

export const PlaceRequest = z
  .object({
    ...{ id: Id, courseId: Id, courseTitle: z.string() },
    firstDay: LocalDate.meta({ description: 'The day of the first session that takes place.' }),
    placesLeft: z.int(),
    isJoinable: z.boolean().meta({ description: 'The course is neither cancelled nor has it begun.' }),
    ...{
      name: z.string(),
      email: z.string(),
      phone: z.string().nullable(),
      places: z.int(),
      note: z.string().nullable(),
    },
    askedAt: z.iso.datetime(),
    answeredAt: z.iso.datetime().nullable(),
    answer: z.enum(['booked', 'waiting', 'declined']).nullable(),
    bookingId: Id.nullable(),
    known: z
      .array(z.object({ id: Id, name: z.string() }))
      .meta({ description: 'Who of the people in the books has this email address.' }),
  })
  .meta({ id: 'PlaceRequest' });
export type PlaceRequest = z.output<typeof PlaceRequest>;

export const PlaceRequestQuery = ListQuery.omit({ q: true }).extend({
  state: z.enum(['open', 'answered']).optional(),
});
export type PlaceRequestQuery = z.output<typeof PlaceRequestQuery>;
