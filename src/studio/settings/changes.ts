import { lockRow } from '../../database/lock-row.js';
import { changed, type Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import type { NewRefundPolicy, NewRoom, NewTaxRate, RefundPolicy, Room, TaxRate } from './contract.js';
import { mostBenches } from './queries.js';
import { getTaxRate, listRefundPolicies } from './service.js';

const nameTaken = (what: string, name: string) =>
  new Problem('already-there', `There is a ${what} named "${name}" already. Choose another name.`);
const stays = (sentence: string) => new Problem('still-needed', sentence);

export async function getRoom(tx: Transaction, id: string): Promise<Room> {
  const row = await tx.room.findUnique({ where: { id } });
  if (!row)
    throw new Problem('not-found', 'No room has this id. Look for it on the page Studio.', see('studio', '/api/rooms'));
  return row;
}

export async function lockRoom(tx: Transaction, id: string): Promise<Room> {
  await lockRow(tx, 'room', id);
  return getRoom(tx, id);
}

/** Replaces what is said of a room; never with fewer benches than some session needs. */
export async function changeRoom(tx: Transaction, id: string, wanted: NewRoom): Promise<Room> {
  if ((await tx.room.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw nameTaken('room', wanted.name);
  const needed = await mostBenches(tx, id);
  if (wanted.benches < needed)
    throw stays(`Sessions in this room use ${needed} places at once. Give it at least as many.`);
  return tx.room.update({ where: { id }, data: wanted });
}

export async function removeRoom(tx: Transaction, id: string): Promise<void> {
  const { name } = await getRoom(tx, id);
  if ((await tx.session.count({ where: { roomId: id } })) > 0)
    throw stays(`Courses run or ran in "${name}", so it stays. Rename it if you no longer have it.`);
  await tx.room.delete({ where: { id } });
}

export async function lockTaxRate(tx: Transaction, id: string): Promise<TaxRate> {
  await lockRow(tx, 'tax_rate', id);
  changed(tx, `tax rate ${id}`);
  return getTaxRate(tx, id);
}

/** Replaces a tax rate: what is charged from now on bears it. What was charged keeps the tax that it was charged with. */
export async function changeTaxRate(tx: Transaction, id: string, wanted: NewTaxRate): Promise<TaxRate> {
  if ((await tx.taxRate.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw nameTaken('VAT rate', wanted.name);
  await tx.taxRate.update({ where: { id }, data: wanted });
  changed(tx, `tax rate ${id}`);
  return getTaxRate(tx, id);
}

export async function removeTaxRate(tx: Transaction, id: string): Promise<void> {
  const { _count, name } = await tx.taxRate.findUniqueOrThrow({
    where: { id },
    include: { _count: { select: { studios: true, courses: true, planParts: true, sellingPrices: true } } },
  });
  if (Object.values(_count).some((count) => count > 0))
    throw stays(
      `"${name}" is the VAT of firings, courses, plans or things for sale, so it stays. Choose another rate for them first, or rename it.`,
    );
  await tx.taxRate.delete({ where: { id } });
  changed(tx, `tax rate ${id}`);
}

export async function getRefundPolicy(tx: Transaction, id: string): Promise<RefundPolicy> {
  const policy = (await listRefundPolicies(tx)).find((each) => each.id === id);
  if (!policy)
    throw new Problem(
      'not-found',
      'No refund policy has this id. Look for it on the page Studio.',
      see('studio', '/api/refund-policies'),
    );
  return policy;
}

export async function lockRefundPolicy(tx: Transaction, id: string): Promise<RefundPolicy> {
  await lockRow(tx, 'refund_policy', id);
  return getRefundPolicy(tx, id);
}

/** Replaces a refund policy. Once somebody has booked under it only its name may change: it is what they agreed to. */
export async function changeRefundPolicy(tx: Transaction, id: string, wanted: NewRefundPolicy): Promise<RefundPolicy> {
  if ((await tx.refundPolicy.count({ where: { name: wanted.name, id: { not: id } } })) > 0)
    throw nameTaken('refund policy', wanted.name);
  const before = await getRefundPolicy(tx, id);
  const terms = ({ refilledFeeMinor, tiers }: NewRefundPolicy) =>
    JSON.stringify([
      refilledFeeMinor,
      [...tiers].sort((a, b) => b.daysBefore - a.daysBefore).map((t) => [t.daysBefore, Number(t.refundPercent)]),
    ]);
  const booked = await tx.booking.count({ where: { course: { refundPolicyId: id } } });
  if (terms(wanted) !== terms(before) && booked > 0)
    throw stays(`People have booked under "${before.name}". Add another policy, and choose it for your next courses.`);
  const { tiers, ...plain } = wanted;
  await tx.refundPolicy.update({
    where: { id },
    data: { ...plain, refundTiers: { deleteMany: {}, create: tiers } },
  });
  return getRefundPolicy(tx, id);
}

export async function removeRefundPolicy(tx: Transaction, id: string): Promise<void> {
  const { name } = await getRefundPolicy(tx, id);
  if ((await tx.course.count({ where: { refundPolicyId: id } })) > 0)
    throw stays(`Courses go by "${name}", so it stays. Rename it if you no longer offer it.`);
  await tx.refundTier.deleteMany({ where: { refundPolicyId: id } });
  await tx.refundPolicy.delete({ where: { id } });
}
