import { z } from 'zod';
import { Id } from '../../http/types.js';
import { NewCourse, NewSession, Places } from './contract.js';

const COURSES_MAX = 60;
const SESSIONS_MAX = 60;

export const NewCourseSeries = z.strictObject({ courses: z.array(NewCourse).min(1).max(COURSES_MAX) }).meta({
  id: 'NewCourseSeries',
  description: 'Courses that are put into the calendar at once: all of them, or none.',
});
export type NewCourseSeries = z.output<typeof NewCourseSeries>;

export const SessionsToCheck = z
  .strictObject({
    planId: Id,
    places: Places,
    sessions: z.array(NewSession).min(1).max(SESSIONS_MAX).meta({
      description:
        "As many as the plan has, in their order; or, of a plan with one session, several courses' sessions.",
    }),
  })
  .meta({ id: 'SessionsToCheck' });
export type SessionsToCheck = z.output<typeof SessionsToCheck>;

export const SessionsChecked = z
  .object({
    sessions: z.array(z.object({ conflicts: z.array(z.object({ type: z.string(), detail: z.string() })) })).meta({
      description: 'What is in the way of each, in the order in which they were given: nothing, where it is free.',
    }),
  })
  .meta({ id: 'SessionsChecked' });
export type SessionsChecked = z.output<typeof SessionsChecked>;
