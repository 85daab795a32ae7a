import { z } from 'zod';
import { Id } from '../../../http/types.js';

export const NewMakeUp = z
  .strictObject({
    personId: Id.meta({ description: 'Who comes on the booking.' }),
    missedSessionId: Id.meta({
      description:
        'A session of the booking’s course to which they did not come, or will not; or one that is cancelled.',
    }),
    sessionId: Id.meta({ description: 'One of the same purpose of another course, with a place left.' }),
  })
  .meta({ id: 'NewMakeUp' });
export type NewMakeUp = z.output<typeof NewMakeUp>;

const SessionOfCourse = z.object({
  ...{ sessionId: Id, courseId: Id, courseTitle: z.string() },
  ...{ startsAt: z.iso.datetime(), endsAt: z.iso.datetime(), roomName: z.string() },
});

export const MakeUp = z
  .object({
    ...{ id: Id, bookingId: Id, personId: Id, name: z.string() },
    missed: SessionOfCourse,
    there: SessionOfCourse.meta({ description: 'Where they come instead.' }),
  })
  .meta({ id: 'MakeUp' });
export type MakeUp = z.output<typeof MakeUp>;

const MakeUpPlace = z
  .object({
    ...SessionOfCourse.shape,
    placesLeft: z.int(),
    isSamePlan: z.boolean().meta({ description: 'The same session of the same plan: these come first.' }),
  })
  .meta({ id: 'MakeUpPlace', description: 'A session where another one can be made up.' });
export type MakeUpPlace = z.output<typeof MakeUpPlace>;

export const MakeUpPlaces = z.object({
  items: z.array(MakeUpPlace),
  hasMore: z.boolean().meta({ description: 'Whether there are later ones, which are not among them.' }),
});
export type MakeUpPlaces = z.output<typeof MakeUpPlaces>;

export const NewMakeUpRemoval = z.strictObject({}).meta({ id: 'NewMakeUpRemoval' });
