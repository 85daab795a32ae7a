import { decimalIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import { MAX_MINOR } from '../money/money-limits.js';
import type { CostKind, CostLine, CostSource, MaterialUse } from './price-inputs.js';

/** A cost line with its exact amount, in minor units. */
export type CostedLine = { line: CostLine; amountMinor: Decimal };

/** @throws RangeError with a sentence that says what to mend */
export function readLines(lines: readonly CostLine[]): CostedLine[] {
  if (new Set(lines.map(({ key }) => key)).size < lines.length) {
    throw new RangeError('Two cost lines have the same key. Give each its own, or one would hide the other.');
  }
  return lines.map(readLine);
}

export type LineTest = (line: CostLine) => boolean;

/** The lines of what is used so, reclaim among them: it moves with its material. */
export const usedAs =
  (use: MaterialUse): LineTest =>
  (line) =>
    line.kind === 'material' && line.use === use;
export const isMaterial: LineTest = ({ kind }) => kind === 'material';
export const isFiring: LineTest = ({ kind }) => kind === 'firing';
/** A firing of which each student pays the share of a load that their ware takes. */
export const isSharedLoad: LineTest = (line) => line.kind === 'firing' && !line.wholeLoads;

/** What a line pays for, without its amount. */
export function costKind(line: CostLine): CostKind {
  switch (line.kind) {
    case 'material': {
      const { kind, materialId, use, isReclaim } = line;
      return { kind, materialId, use, isReclaim };
    }
    case 'firing': {
      const { kind, firing, wholeLoads } = line;
      return { kind, firing, wholeLoads };
    }
    default:
      return { kind: line.kind };
  }
}

/** The lines of one basis, added up. */
export function lineTotal(lines: readonly CostedLine[], basis: CostLine['basis']): Decimal {
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
  // what comes back is taken off: anything else below nothing would make a course look cheap
  const isReclaim = line.kind === 'material' && line.isReclaim;
  const [least, most] = isReclaim ? [0 - MAX_MINOR, 0] : [0, MAX_MINOR];
  const quantity = decimalIn(line.quantity, `The quantity of ${name}`, least, most);
  const rate = decimalIn(line.rateMinor, `The rate of ${name}, in minor units,`, 0, MAX_MINOR);
  return { line, amountMinor: quantity.times(rate) };
}

export function checkSource(source: CostSource, of: string): void {
  if (source.detail.trim() === '') throw new RangeError(`Say where the figures of ${of} come from.`);
}
