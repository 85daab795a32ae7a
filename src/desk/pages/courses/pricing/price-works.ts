import { cheapestChanges } from '../../../../trade/pricing/course-price.js';
import { privateOutcome, recalculate } from './recalculate';

/** What takes too long to be worked out between two frames of a slider that is dragged. */
export const WORKS = { recalculate, cheapestChanges, privateOutcome };

export type Works = typeof WORKS;
export type Job = { [Name in keyof Works]: { id: number; name: Name; given: Parameters<Works[Name]> } }[keyof Works];
export type Done = { id: number; answer: unknown } | { id: number; fault: string };
