/** Guessing passwords and links is slowed down per address of the caller; each process counts for itself. */
export const GUESSES_MAX = { max: 10, timeWindow: '5 minutes' };
