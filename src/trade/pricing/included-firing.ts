import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';

const MM3_PER_LITRE = 1_000_000;

/**
 * Which pieces of a student are fired for the price of the course, where so many litres are in it: in the order in which they are taken
 * in, each that still fits whole into what is left. A piece is never divided, so that its maker sees what they pay for.
 *
 * @param includedLitres decimal string
 * @param takenMm3       kiln room of those that were in the price before, gaps included
 * @param piecesMm3      whole mm³ each, gaps included
 * @throws RangeError on a quantity that is none
 */
export function piecesInThePrice(includedLitres: string, takenMm3: number, piecesMm3: readonly number[]): boolean[] {
  let left = decimalIn(includedLitres, 'The litres in the price', 0, 100_000)
    .times(MM3_PER_LITRE)
    .minus(wholeIn(takenMm3, 'What was taken in before, in mm³,', 0, Number.MAX_SAFE_INTEGER));
  return piecesMm3.map((mm3) => {
    const fits = left.gte(new Decimal(wholeIn(mm3, 'The room of a piece, in mm³,', 0, Number.MAX_SAFE_INTEGER)));
    if (fits) left = left.minus(mm3);
    return fits;
  });
}
