import type { Transaction } from '../../database/transaction.js';
import { listDebtors } from '../accounts/reports.js';
import type { Debts } from './contract.js';

const TOP = 5;

/** Who owes, in sums and by the few who owe most. */
export async function debtsOf(tx: Transaction, today: string): Promise<Debts> {
  const everybody = await listDebtors(tx, today);
  const all = everybody.filter(({ owedMinor }) => owedMinor > 0);
  const sum = (what: 'dueMinor' | 'owedMinor' | 'firingOwedMinor') => all.reduce((total, one) => total + one[what], 0);
  return {
    ...{ people: all.length, dueMinor: sum('dueMinor'), owedMinor: sum('owedMinor') },
    firingPeople: all.filter(({ firingOwedMinor }) => firingOwedMinor > 0).length,
    firingOwedMinor: sum('firingOwedMinor'),
    heldPeople: everybody.filter(({ heldMinor }) => heldMinor > 0).length,
    heldMinor: everybody.reduce((total, one) => total + one.heldMinor, 0),
    top: all.slice(0, TOP).map(({ personId, name, dueMinor, owedMinor, firingOwedMinor, charges }) => ({
      ...{ personId, name, dueMinor, owedMinor, firingOwedMinor },
      what: charges.filter(({ hold }) => !hold).map(({ description }) => description),
    })),
  };
}
