import { Decimal } from './money.js';
import { decimalIn } from './number.js';
import { MOST_MINOR } from './price-figures.js';
import type { CostLine, CostSource } from './price-inputs.js';

/** A cost line with its exact amount, in minor units. */
export type CostedLine = { line: CostLine; amountMinor: Decimal };

/** @throws RangeError with a sentence that says what to mend */
export function readLines(lines: readonly CostLine[]): CostedLine[] {
  if (new Set(lines.map(({ key }) => key)).size < lines.length) {
    throw new RangeError('Two cost lines have the same key. Give each its own, or one would hide the other.');
  }
  return lines.map(readLine);
}

/** The lines of one basis, added up. */
export function totalOf(lines: readonly CostedLine[], basis: CostLine['basis']): Decimal {
  return lines.reduce((sum, { line, amountMinor }) => (line.basis === basis ? sum.plus(amountMinor) : sum), ZERO);
}

const ZERO = new Decimal(0);

function readLine(line: CostLine): CostedLine {
  const name = `"${line.label}"`;
  if (!['per-student', 'per-course', 'if-cancelled'].includes(line.basis)) {
    // an unknown basis would drop out of every total, and the course would look cheap
    throw new RangeError(`Say of ${name} whether it is paid per student, per course or if the course is cancelled.`);
  }
  checkSource(line.source, name);
  const quantity = decimalIn(line.quantity, `The quantity of ${name}`, 0, MOST_MINOR);
  const rate = decimalIn(line.rateMinor, `The rate of ${name}, in minor units,`, 0, MOST_MINOR);
  return { line, amountMinor: quantity.times(rate) };
}

export function checkSource(source: CostSource, of: string): void {
  if (source.detail.trim() === '') throw new RangeError(`Say where the figures of ${of} come from.`);
}
