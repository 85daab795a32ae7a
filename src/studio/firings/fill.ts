import type { Transaction } from '../../database/transaction.js';
import type { PageQuery } from '../../http/paging.js';
import { FIRINGS_ENOUGH, type UsualFill, usualFill } from '../../trade/firing/kiln-fill.js';
import type { FiringKind } from '../../trade/firing/kiln-room.js';
import { Decimal } from '../../trade/money/money.js';
import { formatPercent } from '../../trade/text/format.js';
import type { KilnWithWear } from '../kilns/contract.js';
import { listKilns } from '../kilns/service.js';
import type { KilnFills } from './contract.js';
import { roomFilledMm3 } from './loaded-ware.js';
import { listLatestLoads } from './queries.js';

/** How a studio loads changes over the years: the latest of a kiln and kind tell. */
const LATEST = 24;
const DECIMALS = 3;

type Oven = Pick<KilnWithWear, 'id' | 'chamberMm3' | 'fillPercent'>;

/**
 * How full a kiln usually is in a kind of firing, by what stood in its latest ones: as it was settled, or by the ware's size where it is
 * not yet. One that failed is left out: its ware is fired again, and would count twice.
 *
 * @param before only firings that began before it; left out, all
 */
export async function getUsualFill(tx: Transaction, kiln: Oven, kind: FiringKind, before?: Date): Promise<UsualFill> {
  const latest = await listLatestLoads(tx, { kilnId: kiln.id, kind, before }, LATEST);
  const unsettled = latest.filter(({ settledMm3 }) => settledMm3 === null).map(({ id }) => ({ id, kind }));
  const filled = unsettled.length > 0 ? await roomFilledMm3(tx, unsettled) : new Map<string, number>();
  return usualFill(
    kiln.fillPercent,
    latest.map(({ id, settledMm3 }) => percentOf(settledMm3 ?? filled.get(id) ?? 0, kiln.chamberMm3)),
  );
}

const percentOf = (mm3: number, chamberMm3: number): string =>
  new Decimal(mm3).times(100).div(chamberMm3).toDecimalPlaces(DECIMALS).toFixed();

/** What is usually filled of a chamber, in whole mm³, at least one. */
export function getUsualMm3(chamberMm3: number, percent: string): number {
  return Math.max(1, new Decimal(chamberMm3).times(percent).div(100).round().toNumber());
}

/** Where a usual fill comes from, in a sentence for the owner. */
export function fillInWords(fill: UsualFill, kind: FiringKind, locale: string): string {
  const percent = (of: string) => formatPercent(new Decimal(of).toDecimalPlaces(0).toFixed(), locale);
  const { firings, meanPercent, lowPercent, highPercent } = fill;
  const mean = meanPercent === null ? '' : percent(meanPercent);
  if (!fill.isLearnt) {
    const known =
      firings === 0 ? 'none is known yet' : `${firings === 1 ? 'one is' : `${firings} are`} known, ${mean} full`;
    return `${percent(fill.assumedPercent)} full is assumed until ${FIRINGS_ENOUGH} ${kind} firings are known (${known}).`;
  }
  const range =
    lowPercent && highPercent
      ? `, with 8 chances in 10 between ${percent(lowPercent)} and ${percent(highPercent)}`
      : '';
  return `${mean} full on average in its last ${firings} ${kind} firings, by the ware noted in them${range}.`;
}

/** Of each kiln, how full it usually is in each kind of firing, and how that is known. */
export async function listKilnFills(tx: Transaction, query: PageQuery) {
  const { items, next } = await listKilns(tx, query);
  const fills: KilnFills[] = [];
  for (const kiln of items) {
    const of = (kind: FiringKind) => getUsualFill(tx, kiln, kind);
    const kinds = { bisque: await of('bisque'), glaze: await of('glaze'), lustre: await of('lustre') };
    fills.push({ kilnId: kiln.id, kiln: kiln.name, ...kinds });
  }
  return { items: fills, next };
}
