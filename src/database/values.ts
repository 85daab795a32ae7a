// How a value looks to the program and to Prisma: a day is text here and midnight UTC there, a decimal is text here.

export const toDate = (day: string): Date => new Date(`${day}T00:00:00Z`);
export const fromDate = (date: Date): string => date.toISOString().slice(0, 10);

/** A numeric column as a decimal string without an exponent and without trailing zeros. */
export const fromDecimal = (value: { toFixed(): string }): string => value.toFixed();
