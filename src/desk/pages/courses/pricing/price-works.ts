import { cheapestChanges } from '../../../../trade/pricing/course-price.js';
import { privateOutcome, recalculate } from './recalculate';

/** What takes too long to be worked out between two frames of a slider that is dragged. */
export const WORKS = { recalculate, cheapestChanges, privateOutcome };

export type Works = typeof WORKS;
/** What of the given differs from what was given for the same work before, by its place. */
export type Job = { id: number; name: keyof Works; changed: [place: number, value: unknown][] };
export type Done = { id: number; answer: unknown } | { id: number; fault: string };
