import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import type { Assumption, NewAssumption } from './assumptions-contract.js';

type Kind = NewAssumption['kind'];
type Named = { id: string; name: string };

/** The tables that hold what is assumed; each by its ids, with names. */
const NAMES: Record<Kind, (tx: Transaction, ids: string[]) => Promise<Named[]>> = {
  room: (tx, ids) => tx.room.findMany({ where: { id: { in: ids } } }),
  kiln: (tx, ids) => tx.kiln.findMany({ where: { id: { in: ids } } }),
  schedule: (tx, ids) => tx.schedule.findMany({ where: { id: { in: ids } } }),
  tax: (tx, ids) => tx.taxRate.findMany({ where: { id: { in: ids } } }),
  refundPolicy: (tx, ids) => tx.refundPolicy.findMany({ where: { id: { in: ids } } }),
  tariff: (tx, ids) => tx.tariff.findMany({ where: { id: { in: ids } } }),
  material: (tx, ids) => tx.material.findMany({ where: { id: { in: ids } } }),
  lot: async (tx, ids) => {
    const lots = await tx.lot.findMany({ where: { id: { in: ids } }, include: { material: true } });
    return lots.map(({ id, material }) => ({ id, name: material.name }));
  },
};

/** Notes which figures are only usual ones. Said again of the same thing, the later figures count. */
export async function noteAssumption(tx: Transaction, now: Date, wanted: NewAssumption): Promise<Assumption> {
  const { subjectId, ...said } = wanted;
  const [subject] = await NAMES[wanted.kind](tx, [subjectId]);
  if (!subject) throw new Problem('not-found', `There is no ${wanted.kind} with this id. Add it first.`);
  const data = { ...said, notedAt: now };
  await tx.assumption.upsert({ where: { subjectId }, create: { subjectId, ...data }, update: data });
  return { ...wanted, name: subject.name, notedAt: now.toISOString() };
}

/** What is still assumed, in the order in which it was noted. */
export async function listAssumptions(tx: Transaction): Promise<Assumption[]> {
  const rows = await tx.assumption.findMany({ orderBy: [{ notedAt: 'asc' }, { subjectId: 'asc' }] });
  const kinds = [...new Set(rows.map(({ kind }) => kind))];
  const names = new Map<string, string>();
  for (const kind of kinds) {
    const ids = rows.filter((row) => row.kind === kind).map(({ subjectId }) => subjectId);
    for (const { id, name } of await NAMES[kind](tx, ids)) names.set(id, name);
  }
  return rows.map(({ notedAt, ...row }) => ({
    ...row,
    name: names.get(row.subjectId) ?? '',
    notedAt: notedAt.toISOString(),
  }));
}

/** The figures are right as they are: they are no longer assumed. Confirmed twice is confirmed. */
export async function confirmAssumption(tx: Transaction, subjectId: string): Promise<Assumption[]> {
  await tx.assumption.deleteMany({ where: { subjectId } });
  return listAssumptions(tx);
}
