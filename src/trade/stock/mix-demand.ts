import { wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import { type Demand, drawPlanOf, type PlannedDraw } from './demand.js';

/**
 * What must be mixed of a material for all that draws it: its stock is allotted to those who draw first, to each as much as it draws
 * with every place taken, as if they had drawn it already. So nobody is reckoned with less than they may need of a new batch, whoever
 * comes: the sum over all courses of what is above their allotment is never below what all draw beyond the stock together.
 *
 * @param demands in the order in which they are served
 * @param inStock whole base units that will be there for them
 * @returns for each demand its draws of which something is left to mix; days and shares as they were
 */
export function drawsToMix(demands: readonly Demand[], inStock: number): PlannedDraw[][] {
  let left = wholeIn(inStock, 'What is in stock', 0, Number.MAX_SAFE_INTEGER);
  return demands.map((demand) =>
    demand.draws.flatMap((draw) => {
      const { last, unitsBy } = drawPlanOf({ ...demand, draws: [draw] });
      const most = unitsBy(last).at(-1) ?? 0;
      const allotted = Math.min(left, most);
      left -= allotted;
      return allotted === most ? [] : [{ ...draw, drawn: draw.drawn + allotted }];
    }),
  );
}

/**
 * What a draw of a mix comes to in one of its parts.
 * @param perUnit decimal string: the part's units in a unit of the mix (partsPerUnit of mix.ts)
 */
export const partDraw = ({ perStudent, drawn, sessions }: PlannedDraw, perUnit: string): PlannedDraw => ({
  perStudent: new Decimal(perStudent).times(perUnit).toFixed(),
  drawn: new Decimal(drawn).times(perUnit).floor().toNumber(), // what was mixed already, and not more than that
  sessions,
});
