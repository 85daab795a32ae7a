import type { Transaction } from '../../database/transaction.js';
import type { PageQuery } from '../../http/paging.js';
import { FIRINGS_ENOUGH, type UsualFill, usualFill } from '../../trade/firing/kiln-fill.js';
import { FIRING_KINDS, type FiringKind } from '../../trade/firing/kiln-room.js';
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
  const [fill] = await getUsualFills(tx, [{ kiln, kind }], before);
  return fill as UsualFill;
}

/** The same of several, in their order, in as few questions to the database as for one. */
export async function getUsualFills(
  tx: Transaction,
  wanted: readonly { kiln: Oven; kind: FiringKind }[],
  before?: Date,
): Promise<UsualFill[]> {
  const of = wanted.map(({ kiln, kind }) => ({ kilnId: kiln.id, kind }));
  const latest = await listLatestLoads(tx, of, { before, count: LATEST });
  const unsettled = latest.flatMap((loads, i) =>
    loads.filter(({ settledMm3 }) => settledMm3 === null).map(({ id }) => ({ id, kind: wanted[i]?.kind ?? 'glaze' })),
  );
  const filled = unsettled.length > 0 ? await roomFilledMm3(tx, unsettled) : new Map<string, number>();
  return wanted.map(({ kiln }, i) => {
    const loads = latest[i] ?? [];
    const percents = loads.map(({ id, settledMm3 }) => percentOf(settledMm3 ?? filled.get(id) ?? 0, kiln.chamberMm3));
    return usualFill(kiln.fillPercent, percents);
  });
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
  const found = await getUsualFills(
    tx,
    items.flatMap((kiln) => FIRING_KINDS.map((kind) => ({ kiln, kind }))),
  );
  const fills = items.map((kiln, i): KilnFills => {
    const of = (kind: FiringKind) => found[i * FIRING_KINDS.length + FIRING_KINDS.indexOf(kind)] as UsualFill;
    return {
      ...{ kilnId: kiln.id, kiln: kiln.name },
      ...{ bisque: of('bisque'), glaze: of('glaze'), lustre: of('lustre') },
    };
  });
  return { items: fills, next };
}
