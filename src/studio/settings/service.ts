import type { Prisma } from '../../database/generated/client.js';
import { changed, once, type Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import type { TaxTreatment } from '../../trade/money/tax.js';
import type { NewRefundPolicy, NewRoom, NewTaxRate, RefundPolicy, Room, Studio, TaxRate } from './contract.js';
import { lockStudioTable } from './queries.js';

/** The studio that this database keeps. */
export function getStudio(tx: Transaction): Promise<Studio> {
  return once(tx, 'studio', () => readStudio(tx));
}

async function readStudio(tx: Transaction): Promise<Studio> {
  const row = await tx.studio.findUnique({ where: { id: 1 } });
  if (!row)
    throw new Problem('set-up-missing', 'Enter your studio first, on the page Studio.', see('studio', '/api/studio'));
  const { id: _, logoSha256: __, ...rest } = row;
  return {
    ...rest,
    poorAtMost: fromDecimal(row.poorAtMost),
    cardPercent: fromDecimal(row.cardPercent),
    offcutsPercent: fromDecimal(row.offcutsPercent),
    remakesPercent: fromDecimal(row.remakesPercent),
    reclaimedPercent: fromDecimal(row.reclaimedPercent),
    glazeWastePercent: fromDecimal(row.glazeWastePercent),
    inputVatPercent: fromDecimal(row.inputVatPercent),
    enrolmentAlpha: fromDecimal(row.enrolmentAlpha),
    enrolmentBeta: fromDecimal(row.enrolmentBeta),
  };
}

/** The studio as it stands, or null before it was entered; nobody else can enter or change it until the transaction ends. */
export async function lockStudio(tx: Transaction): Promise<Studio | null> {
  await lockStudioTable(tx);
  changed(tx, 'studio');
  return (await tx.studio.count()) > 0 ? getStudio(tx) : null;
}

/** Enters the studio, or replaces all that is said of it. */
export async function saveStudio(tx: Transaction, wanted: Studio): Promise<Studio> {
  const known = await tx.taxRate.count({ where: { id: wanted.firingTaxRateId } });
  if (known === 0)
    throw new Problem(
      'not-found',
      'There is no such tax rate for firings. Add it first, on the page Studio.',
      see('studio', '/api/tax-rates'),
    );
  const earlier = await tx.studio.findUnique({ where: { id: 1 } });
  if (earlier && earlier.currency !== wanted.currency && (await tx.charge.count()) > 0)
    throw new Problem('never-changes', `The books are kept in ${earlier.currency}, and the currency can’t be changed.`);
  await tx.studio.upsert({ where: { id: 1 }, create: { id: 1, ...wanted }, update: wanted });
  changed(tx, 'studio');
  return getStudio(tx);
}

export async function addTaxRate(tx: Transaction, wanted: NewTaxRate): Promise<TaxRate> {
  return showTaxRate(await tx.taxRate.create({ data: { id: newId(), ...wanted } }));
}

export async function listTaxRates(tx: Transaction): Promise<TaxRate[]> {
  return (await tx.taxRate.findMany({ orderBy: { name: 'asc' } })).map(showTaxRate);
}

/** Tax rates that were read with what names them: getTaxRate knows them for the rest of this transaction. */
export function rememberTaxRates(tx: Transaction, rows: readonly TaxRateRow[]): void {
  for (const row of rows) void once(tx, `tax rate ${row.id}`, async () => showTaxRate(row));
}

/** A tax rate by id, refused with a sentence where there is none. */
export function getTaxRate(tx: Transaction, id: string): Promise<TaxRate> {
  return once(tx, `tax rate ${id}`, () => readTaxRate(tx, id));
}

async function readTaxRate(tx: Transaction, id: string): Promise<TaxRate> {
  const row = await tx.taxRate.findUnique({ where: { id } });
  if (!row)
    throw new Problem(
      'not-found',
      'No tax rate has this id. Look for it on the page Studio.',
      see('studio', '/api/tax-rates'),
    );
  return showTaxRate(row);
}

/** How a rate taxes a sale. Without a VAT number the studio is not registered, and nothing is taxed. */
export function taxTreatmentOf(
  studio: Pick<Studio, 'vatNumber'>,
  rate: Pick<TaxRate, 'kind' | 'percent'>,
): TaxTreatment {
  if (studio.vatNumber === null) return { kind: 'outside' };
  return rate.percent === null || rate.kind !== 'standard'
    ? { kind: rate.kind === 'standard' ? 'outside' : rate.kind }
    : { kind: 'standard', percent: rate.percent };
}

export async function addRefundPolicy(tx: Transaction, wanted: NewRefundPolicy): Promise<RefundPolicy> {
  const id = newId();
  const { tiers, ...policy } = wanted;
  await tx.refundPolicy.create({ data: { id, ...policy, refundTiers: { create: tiers } } });
  return { id, ...wanted };
}

export async function listRefundPolicies(tx: Transaction): Promise<RefundPolicy[]> {
  const rows = await tx.refundPolicy.findMany({
    orderBy: { name: 'asc' },
    include: POLICY_INCLUDE,
  });
  return rows.map(showRefundPolicy);
}

export const POLICY_INCLUDE = {
  refundTiers: { orderBy: { daysBefore: 'desc' } },
} as const satisfies Prisma.RefundPolicyInclude;

export const showRefundPolicy = ({
  refundTiers,
  ...policy
}: Prisma.RefundPolicyGetPayload<{ include: typeof POLICY_INCLUDE }>): RefundPolicy => ({
  ...policy,
  tiers: refundTiers.map((t) => ({ daysBefore: t.daysBefore, refundPercent: fromDecimal(t.refundPercent) })),
});

export async function addRoom(tx: Transaction, wanted: NewRoom): Promise<Room> {
  return tx.room.create({ data: { id: newId(), ...wanted } });
}

export async function listRooms(tx: Transaction): Promise<Room[]> {
  return tx.room.findMany({ orderBy: { name: 'asc' } });
}

type TaxRateRow = { id: string; name: string; kind: TaxRate['kind']; percent: { toFixed(): string } | null };

function showTaxRate(row: TaxRateRow): TaxRate {
  return { ...row, percent: row.percent === null ? null : fromDecimal(row.percent) };
}
