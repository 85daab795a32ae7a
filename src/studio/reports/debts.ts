import type { Transaction } from '../../database/transaction.js';
import { debtors } from '../accounts/lists.js';
import type { Debts } from './contract.js';

const TOP = 5;

/** Who owes, in sums and by the few who owe most. */
export async function debtsOf(tx: Transaction, today: string): Promise<Debts> {
  const all = await debtors(tx, today);
  const sum = (what: 'dueMinor' | 'owedMinor' | 'firingOwedMinor') => all.reduce((total, one) => total + one[what], 0);
  return {
    ...{ people: all.length, dueMinor: sum('dueMinor'), owedMinor: sum('owedMinor') },
    firingPeople: all.filter(({ firingOwedMinor }) => firingOwedMinor > 0).length,
    firingOwedMinor: sum('firingOwedMinor'),
    top: all.slice(0, TOP).map(({ personId, name, dueMinor, owedMinor, firingOwedMinor, charges }) => ({
      ...{ personId, name, dueMinor, owedMinor, firingOwedMinor },
      what: charges.map(({ description }) => description),
    })),
  };
}
