import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { Problem, see } from '../../problems.js';
import { asPricedMinor, type EmptySpace, timeInShares } from '../../trade/firing/cost-split.js';
import { borneBy } from '../../trade/firing/firing-outcomes.js';
import { Decimal, formatMoneyInText } from '../../trade/money/money.js';
import { formatPercent } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type { FiringCost } from './contract.js';
import { getUsualMm3 } from './fill.js';

const PERSON = { select: { name: true } } as const;
const WITH = {
  tariff: { select: { name: true } },
  placements: { select: { pieceId: true, outcome: true, studioPays: true } },
  shares: {
    orderBy: { id: 'asc' },
    include: { piece: { select: { code: true, firingPaidBy: true } }, person: PERSON },
  },
  firingCharges: {
    include: {
      charge: {
        select: { grossMinor: true, membershipFiring: { select: { credit: { select: { amountMinor: true } } } } },
      },
      person: PERSON,
    },
    orderBy: { personId: 'asc' },
  },
} as const satisfies Prisma.FiringInclude;

/** What a settled firing cost, and who pays which part of it. */
export async function getFiringCost(tx: Transaction, id: string): Promise<FiringCost> {
  const row = await tx.firing.findUnique({
    where: { id },
    include: WITH,
  });
  if (!row)
    throw new Problem(
      'not-found',
      'No firing has this id. Look for it on the page Kilns.',
      see('kilns', '/api/firings'),
    );
  const { tariff, energyKwh, energyMinor, wearMinor, labourMinor, labourMinutes, emptySpace } = row;
  if (tariff === null || energyKwh === null || energyMinor === null || wearMinor === null || labourMinor === null)
    throw new Problem(
      'wrong-state',
      `The fees of firing ${row.number} are not worked out yet. Do that first, on the page Kilns.`,
      see('kilns', `/api/firings/${id}`),
    );
  const studio = await getStudio(tx);
  const energyAndWearMinor = energyMinor + wearMinor;
  const usualFillPercent = row.usualFillPercent && fromDecimal(row.usualFillPercent);
  const room = roomOf(row.shares);
  const studioMinor = row.shares.find(({ pieceId }) => pieceId === null)?.amountMinor ?? 0;
  const { shares, studioLabourMinor } = sharesShown(row, labourMinor);
  const priced = shares.length === 0 ? null : asPriced(energyAndWearMinor, room, usualFillPercent);
  const money = (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale);
  return {
    ...{ firingId: id, number: row.number, currency: studio.currency },
    ...{ energyKwh: fromDecimal(energyKwh), tariffName: tariff.name, labourMinutes },
    ...{ energyMinor, wearMinor, energyAndWearMinor, labourMinor, costMinor: energyAndWearMinor + labourMinor },
    ...{ studioMinor, studioLabourMinor, filledPercent: room.percent, usualFillPercent, emptySpace },
    asPricedMinor: priced,
    whyNotAsPriced:
      priced === null || usualFillPercent === null || emptySpace === null
        ? null
        : whyNotAsPriced(
            { shares, priced, emptySpace, percents: [room.percent, usualFillPercent] },
            money,
            studio.locale,
          ),
    shares,
    charges: row.firingCharges.map(({ personId, chargeId, charge, person }) => ({
      ...{ personId, personName: person.name, chargeId, grossMinor: charge.grossMinor },
      includedMinor: charge.membershipFiring?.credit.amountMinor ?? 0,
    })),
  };
}

type Row = Prisma.FiringGetPayload<{ include: typeof WITH }>;
type Shown = FiringCost['shares'];

function sharesShown(row: Row, labourMinor: number): { shares: Shown; studioLabourMinor: number } {
  const times = timeInShares(
    row.shares.map(({ amountMinor }) => amountMinor),
    labourMinor,
  );
  const placed = new Map(row.placements.map((placement) => [placement.pieceId, placement]));
  const shares = row.shares.flatMap(({ pieceId, personId, piece, person, weightMm3, amountMinor }, i) => {
    const placement = placed.get(pieceId ?? '');
    if (pieceId === null || personId === null || !piece || !person || !placement) return [];
    const { code, firingPaidBy } = piece;
    return [
      {
        ...{ pieceId, code, personId, personName: person.name, weightMm3: Number(weightMm3), amountMinor },
        ...{ labourMinor: times[i] ?? 0, borneBy: borneBy({ ...placement, firingPaidBy }) },
      },
    ];
  });
  return { shares, studioLabourMinor: times[row.shares.findIndex(({ pieceId }) => pieceId === null)] ?? 0 };
}

/** The studio's row weighs what stood empty, so that all rows together are the chamber, or the ware where that came to more. */
function roomOf(shares: Row['shares']) {
  const mm3 = (of: Row['shares']) => of.reduce((sum, { weightMm3 }) => sum + Number(weightMm3), 0);
  const [filledMm3, allMm3] = [mm3(shares.filter(({ pieceId }) => pieceId !== null)), mm3(shares)];
  const percent = new Decimal(filledMm3).times(100).div(Math.max(1, allMm3)).toDecimalPlaces(3).toFixed();
  return { filledMm3, chamberMm3: allMm3, percent };
}

const asPriced = (
  energyAndWearMinor: number,
  { filledMm3, chamberMm3 }: ReturnType<typeof roomOf>,
  usualFillPercent: string | null,
): number | null =>
  usualFillPercent === null
    ? null
    : asPricedMinor(energyAndWearMinor, filledMm3, getUsualMm3(chamberMm3, usualFillPercent));

/** The price, the comparison and the bill count room by one rule; who pays for what stood empty, and for time, is where they part. */
function whyNotAsPriced(
  of: { shares: Shown; priced: number; emptySpace: EmptySpace; percents: [string, string] },
  money: (minor: number) => string,
  locale: string,
): string {
  const borne = of.shares.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  const time = of.shares.reduce((sum, { labourMinor }) => sum + labourMinor, 0);
  const [filled, usual] = of.percents.map((percent) =>
    formatPercent(new Decimal(percent).toDecimalPlaces(0).toFixed(), locale),
  );
  const rest = borne - time - of.priced;
  const room =
    rest === 0
      ? ''
      : ` The other ${money(Math.abs(rest))} ${rest > 0 ? 'more' : 'less'}: the kiln was ${filled} full, the price uses ${usual}, and ${PAYS[of.emptySpace]}.`;
  return `The pieces are charged ${money(borne)}; a course's price counts ${money(of.priced)} for the same room. ${money(time)} of the difference is your time, which a price counts in your hours.${room}`;
}

const PAYS: Record<EmptySpace, string> = {
  studio: 'the studio pays for the empty room',
  usual: 'the studio pays for what was emptier than usual',
  spread: 'the pieces share the cost of the empty room',
};
