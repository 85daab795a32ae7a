import type { Transaction } from '../../database/transaction.js';
import type { Price } from './contract.js';
import { asStored, type QuoteInputs, readStored } from './quote-versions.js';

/** A price of a course as it was saved. */
export type SavedQuote = {
  id: string;
  computedAt: Date;
  /** null where what is stored can't be read */
  inputs: QuoteInputs | null;
};

/** The price of a course that was saved last, or last before an instant. */
export async function findLastQuote(tx: Transaction, courseId: string, before?: Date): Promise<SavedQuote | null> {
  const row = await tx.priceQuote.findFirst({
    where: { courseId, ...(before && { computedAt: { lt: before } }) },
    orderBy: [{ computedAt: 'desc' }, { id: 'desc' }],
    include: { course: { select: { plan: { select: { planFirings: PLANNED } } } } },
  });
  if (!row) return null;
  const firings = row.course.plan.planFirings.map(({ schedule, ...firing }) => ({ ...firing, kind: schedule.kind }));
  return { id: row.id, computedAt: row.computedAt, inputs: readStored(row.inputs, firings) };
}

const PLANNED = {
  orderBy: { ordinal: 'asc' },
  select: { kilnId: true, scheduleId: true, schedule: { select: { kind: true } } },
} as const;

type NewQuote = { id: string; courseId: string; computedAt: Date } & Pick<Price, 'inputs' | 'result'>;

export async function addQuote(tx: Transaction, { inputs, ...quote }: NewQuote): Promise<void> {
  await tx.priceQuote.create({ data: { ...quote, inputs: asStored(inputs) } });
}
