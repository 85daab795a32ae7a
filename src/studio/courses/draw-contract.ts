import { z } from 'zod';
import { Id, Instant, LocalDate, SingleLine } from '../../http/types.js';

export const NewCourseDraw = z
  .strictObject({
    materialId: Id,
    quantity: z.int().min(1).max(10_000_000).meta({ description: 'In base units of the material: g, ml or pieces.' }),
    note: SingleLine(200).optional(),
    sessionId: Id.optional().meta({ description: 'Of the course, where it is known at which it was used.' }),
  })
  .meta({ id: 'NewCourseDraw' });
export type NewCourseDraw = z.output<typeof NewCourseDraw>;

export const CourseDraw = z
  .object({
    materialId: Id,
    quantity: z.int(),
    foundQuantity: z.int().meta({ description: 'Of it, what was not in recorded stock: count that shelf.' }),
    moveIds: z.array(Id),
  })
  .meta({ id: 'CourseDraw' });
export type CourseDraw = z.output<typeof CourseDraw>;

export const DrawnForCourse = z
  .object({
    id: Id.meta({ description: 'Of the stock move.' }),
    materialId: Id,
    materialName: z.string(),
    unit: z.enum(['g', 'ml', 'piece']),
    quantity: z.int(),
    at: Instant,
    note: z.string(),
    sessionId: Id.nullable(),
  })
  .meta({ id: 'DrawnForCourse' });

export const NewCourseReclaim = z
  .strictObject({
    materialId: Id,
    quantity: NewCourseDraw.shape.quantity.meta({
      description: 'As it went back on the shelf, in base units: g or ml.',
    }),
    note: SingleLine(200).optional(),
  })
  .meta({ id: 'NewCourseReclaim' });
export type NewCourseReclaim = z.output<typeof NewCourseReclaim>;

export const CourseReclaim = z
  .object({
    lotId: Id,
    ...{ materialId: Id, materialName: z.string(), unit: DrawnForCourse.shape.unit, quantity: z.int() },
    receivedOn: LocalDate,
  })
  .meta({
    id: 'CourseReclaim',
    description: 'A lot at the mean cost of what the course drew, by so much it cost less.',
  });
export type CourseReclaim = z.output<typeof CourseReclaim>;
