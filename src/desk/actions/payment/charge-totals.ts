import { groupBy } from '../../../trade/maths/group-by.js';
import type { Schemas } from '../../api/client';

export type Debtor = Schemas['Debtor'];
export type Charge = Debtor['charges'][number];

/** Sums of what is owed, in whole minor units. */
export type Owed = { owedMinor: number; dueMinor: number; firingOwedMinor: number; heldMinor: number };

const KINDS: Record<string, string> = { course: 'Courses', firing: 'Firing fees', material: 'Material taken home' };

/** What a kind of charge is called; one that this page does not know yet goes by the API's word. */
export const kindCalled = (kind: string): string => KINDS[kind] ?? kind;

export function together(debtors: readonly Owed[]): Owed {
  const sum = (what: keyof Owed) => debtors.reduce((total, debtor) => total + debtor[what], 0);
  return {
    owedMinor: sum('owedMinor'),
    dueMinor: sum('dueMinor'),
    firingOwedMinor: sum('firingOwedMinor'),
    heldMinor: sum('heldMinor'),
  };
}

export type Kind = { kind: string; people: number; owedMinor: number; dueMinor: number; charges: NamedCharge[] };
export type NamedCharge = Charge & { name: string };

/** Without what is asked for held places, which nobody owes yet. */
const owedOf = (charges: readonly Charge[]): Charge[] => charges.filter(({ hold }) => hold === null);

/** What is owed for each kind, the most first, with the lines that it is made of. */
export function byKind(debtors: readonly Debtor[]): Kind[] {
  const charges = debtors.flatMap(({ name, charges }) => owedOf(charges).map((charge) => ({ ...charge, name })));
  return [...groupBy(charges, ({ kind }) => kind as string)]
    .map(([kind, own]) => ({
      kind,
      people: new Set(own.map(({ personId }) => personId)).size,
      owedMinor: own.reduce((sum, { owedMinor }) => sum + owedMinor, 0),
      dueMinor: own.reduce((sum, { dueMinor }) => sum + dueMinor, 0),
      charges: own,
    }))
    .sort((a, b) => b.owedMinor - a.owedMinor);
}

/** A length of a plank: part of one charge, due or not yet. */
export type Block = { key: string; minor: number; due: boolean; firing: boolean };

/** What lies on one person's plank: what is due from the left, firing fees after courses. */
export function blocksOf({ charges }: Pick<Debtor, 'charges'>): Block[] {
  const parts = charges.flatMap(({ chargeId, kind, dueMinor, owedMinor }) => [
    { key: `${chargeId}-due`, minor: dueMinor, due: true, firing: kind === 'firing' },
    { key: `${chargeId}-later`, minor: owedMinor - dueMinor, due: false, firing: kind === 'firing' },
  ]);
  return parts
    .filter(({ minor }) => minor > 0)
    .sort((a, b) => Number(b.due) - Number(a.due) || Number(a.firing) - Number(b.firing) || b.minor - a.minor);
}
