import type { Transaction } from '../../database/transaction.js';
import type { Decimal } from '../../trade/money/money.js';
import { ASSUMED_PIECES, getReach, LOST_AT, type LostAt, type Reach, timesMade } from '../../trade/pricing/remakes.js';
import type { Studio } from '../settings/contract.js';
import { getLossesByStage } from '../ware/queries.js';

/** What is made again, and how far such pieces get. */
export type Remakes = {
  reach: Reach;
  /** how many times over each piece wanted is worked on at a stage */
  times(at: LostAt): Decimal;
  /** a sentence for the owner on what that comes from */
  inWords(at: LostAt): string;
};

/** By the studio's setting, and by where its courses' pieces were lost; until enough were, by an assumption. */
export async function getRemakes(tx: Transaction, { remakesPercent }: Studio): Promise<Remakes> {
  const losses = await getLossesByStage(tx);
  const reach = getReach(losses);
  const lost = LOST_AT.reduce((sum, at) => sum + losses[at], 0);
  const by =
    lost === 0
      ? 'an assumption until losses are noted'
      : `by ${lost} lost so far, and an assumption that counts as ${ASSUMED_PIECES}`;
  const inWords = (at: LostAt) =>
    Number(remakesPercent) === 0
      ? ''
      : `${remakesPercent}% is made again, of which ${Math.round(Number(reach[at]))}% gets as far as this before it is lost (${by}).`;
  return { reach, times: (at) => timesMade(remakesPercent, reach[at]), inWords };
}
