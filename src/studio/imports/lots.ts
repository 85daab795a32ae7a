import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { Id } from '../../http/types.js';
import { majorUnits } from '../../trade/money/money.js';
import { NewLot } from '../materials/contract.js';
import { dayFault } from '../materials/material-validation.js';
import { receiveLots } from '../materials/service.js';
import { getStudioDay } from '../materials/stock-moves.js';
import { day, money, quantity, text } from './cell-parsers.js';
import { alreadyThere, refuseDuplicates } from './duplicate-rows.js';
import type { ImportEntry, ImportList, Known } from './list.js';

const LotOf = NewLot.extend({ materialId: Id });
type LotOf = z.output<typeof LotOf>;

const keyOf = ({ materialId, supplier, receivedOn, quantity, costMinor }: LotOf) =>
  [materialId, supplier, receivedOn, quantity, costMinor].join('\n');

export const lotImport: ImportList<LotOf> = {
  kind: 'lots',
  summary: 'lots: what is on the shelf, by delivery, with its cost',
  right: 'money:write',
  columns: [
    {
      ...{ heading: 'material', field: 'materialId', needed: true, example: 'Ostlemere buff stoneware' },
      means: 'Its name as it is shown on the page Shelf.',
      read: (cell, _, known) => materialNamed(cell, known).id,
    },
    {
      heading: 'supplier',
      field: 'supplier',
      needed: true,
      example: 'Hollow Hill Clays',
      means: 'Who sold it.',
      read: text,
    },
    {
      ...{ heading: 'received on', field: 'receivedOn', needed: true, example: '2026-03-09', read: day },
      means: 'Year-month-day. The oldest is used first.',
    },
    {
      ...{ heading: 'quantity', field: 'quantity', needed: true, example: '25 kg' },
      means: "What of it is left; without a word in the material's unit.",
      read: (cell, cells, known) => {
        const { unit } = materialNamed(cells.material ?? '', known, 'can only be read with a material that is known.');
        return quantity(cell, unit);
      },
    },
    {
      ...{ heading: 'cost', field: 'costMinor', needed: true, example: '18.50' },
      means: "Of all of it, in the studio's currency, with carriage, and with VAT unless the studio gets it back.",
      read: (cell, _, known) => money(cell, known),
    },
  ],
  contract: LotOf,
  body: (fields) => fields,
  async unfit(tx, now, entries) {
    const latest = await getStudioDay(tx, now);
    const days = entries.flatMap(({ row, value }) => {
      const detail = dayFault(value.receivedOn, latest);
      return detail === null ? [] : [{ row, column: 'received on', detail: `${detail}.` }];
    });
    return [...days, ...refuseDuplicates(entries, keyOf), ...(await inBooks(tx, entries))];
  },
  inWords: ({ receivedOn, costMinor }, { material, quantity }, currency) =>
    `${quantity} of ${material}, received on ${receivedOn}, ${majorUnits(costMinor, currency)} ${currency}`,
  add: receiveLots,
};

function materialNamed(name: string, { materials }: Known, otherwise?: string) {
  const found = materials.get(name);
  if (!found)
    throw new RangeError(
      otherwise ?? `No material is named "${name}". Add it first, or write it exactly as it is there.`,
    );
  return found;
}

async function inBooks(tx: Transaction, entries: readonly ImportEntry<LotOf>[]) {
  const ids = [...new Set(entries.map(({ value }) => value.materialId))];
  const rows = await tx.lot.findMany({ where: { materialId: { in: ids } } });
  const known = rows.map((lot) =>
    keyOf({ ...lot, supplier: lot.supplier ?? '', receivedOn: fromDate(lot.receivedOn) }),
  );
  const there =
    'A lot that says the same is there already. Leave the row out; if another one came that day, receive it by hand.';
  return alreadyThere(entries, keyOf, new Set(known), null, there);
}
