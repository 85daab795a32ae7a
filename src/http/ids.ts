import { v7 } from 'uuid';

/** A new id: UUID v7, so that rows sort by the order in which they came to be. */
export const newId = (): string => v7();
