import { GLAZING_METHODS } from '../../trade/materials/manufacturer-statement.js';
import { NewMaterial } from '../materials/contract.js';
import { kindInWords } from '../materials/material-kinds.js';
import { listTakenNames, wrongDays } from '../materials/material-validation.js';
import { addMaterials } from '../materials/service.js';
import { getStudioDay } from '../materials/stock-moves.js';
import { day, decimal, quantity, text, whole } from './cell-parsers.js';
import { alreadyThere, refuseDuplicates } from './duplicate-rows.js';
import type { ImportList, ImportListColumn } from './list.js';

const { kind, unit } = NewMaterial.shape;
const oneOf = (words: readonly string[]) => (cell: string) => {
  const same = (word: string) => word.replace(/[^a-z]/gi, '').toLowerCase();
  const meant = words.find((word) => same(word) === same(cell));
  if (meant === undefined) throw new RangeError(`"${cell}" is none of these: ${words.map(kindInWords).join(', ')}.`);
  return meant;
};
const readUnit = oneOf(unit.options);
/** "3" or "2 to 3" */
const fromTo = (from: string, to: string) => (cell: string) => {
  const [, first, last = first] = /^(\d+)(?:\s*(?:to|[-–])\s*(\d+))?$/.exec(cell.trim()) ?? [];
  if (first === undefined) throw new RangeError(`"${cell}" is neither a number nor two such as 2 to 3.`);
  return { [from]: Number(first), [to]: Number(last) };
};
const readCoats = fromTo('least', 'most');
const coats = (cell: string) => (cell.trim().toLowerCase() === 'any' ? null : readCoats(cell));

const column = (heading: string, field: string, example: string, read: ImportListColumn['read'], means: string) => ({
  ...{ heading, field, example, read, means, needed: false },
});
const needed = (...of: Parameters<typeof column>) => ({ ...column(...of), needed: true });

export const materialImport: ImportList<NewMaterial> = {
  kind: 'materials',
  summary: 'materials: clay bodies, glazes, what is used up',
  right: 'stock:write',
  columns: [
    needed('name', 'name', 'Ostlemere buff stoneware', text, 'No two materials have the same.'),
    needed('kind', 'kind', 'clay', oneOf(kind.options), `One of: ${kind.options.map(kindInWords).join(', ')}.`),
    needed('unit', 'unit', 'g', readUnit, 'What it is counted in: g, ml or piece.'),
    needed(
      'in a pack',
      'packQuantity',
      '12.5 kg',
      inPack,
      'How much is in a pack as it is bought; without a word in the unit.',
    ),
    needed('days to come', 'leadTimeDays', '7', whole, 'From the order to the shelf.'),
    column('water percent', 'waterPercent', '21.5', decimal, 'Of clay as it is bought, by damp weight.'),
    column('vat percent', 'inputVatPercent', '20', decimal, "In its purchases; empty: the studio's."),
    column('drying shrinkage percent', 'dryingShrinkagePercent', '6.25', decimal, 'Linear.'),
    column('firing shrinkage percent', 'firingShrinkagePercent', '6.5', decimal, 'Linear, of the dry piece.'),
    column(
      'dry g in 1 ml',
      'dryGramsPerMl',
      '0.85',
      decimal,
      'Of a glaze in ml: dry 100 ml, weigh what is left, divide by 100.',
    ),
    column('fires from degrees', 'firingRange.fromC', '1200', whole, 'Where it begins to mature, in degrees Celsius.'),
    column('fires to degrees', 'firingRange.toC', '1260', whole, 'The most that it takes.'),
    column('keeps days', 'shelfLifeDays', '730', whole, 'From its arrival; empty: it keeps.'),
    column(
      'hazards',
      'hazardNote.text',
      'Dust harms the lungs',
      text,
      'What its supplier’s safety data sheet warns of.',
    ),
    column('hazards stated on', 'hazardNote.statedOn', '2025-06-01', day, 'The day of that sheet.'),
    column(
      'use with food',
      'manufacturerStatement.quote',
      'Fired as told, it suits tableware.',
      text,
      'The manufacturer’s own words.',
    ),
    column('use with food stated on', 'manufacturerStatement.statedOn', '2025-06-01', day, 'Their day.'),
    column(
      'use with food coats',
      'manufacturerStatement.asks.coats',
      '3',
      coats,
      'How many coats those words ask for, such as 3 or 2 to 3; “any” where they name no number. Empty: pieces are not compared with them, and carry the caution.',
    ),
    column(
      'use with food way',
      'manufacturerStatement.asks.way',
      'brushed',
      oneOf(GLAZING_METHODS),
      `How they ask for it to be put on, if they do: ${GLAZING_METHODS.join(', ')}.`,
    ),
    column(
      'use with food degrees',
      'manufacturerStatement.asks.firing',
      '1210 to 1230',
      fromTo('fromC', 'toC'),
      'The top of the glaze firing that they name, if they do; otherwise the firing range holds.',
    ),
  ],
  contract: NewMaterial,
  body: nested,
  async unfit(tx, now, entries) {
    const day = await getStudioDay(tx, now);
    const nameOf = ({ name }: NewMaterial) => name;
    const taken = await listTakenNames(
      tx,
      entries.map(({ value }) => value.name),
    );
    const wrong = entries.flatMap(({ row, value }) =>
      wrongDays(value, day).map(({ field, detail }) => ({ row, column: headingOf(field), detail: `${detail}.` })),
    );
    const there = 'A material of this name is there already. Leave the row out, or choose another name.';
    return [...wrong, ...refuseDuplicates(entries, nameOf), ...alreadyThere(entries, nameOf, taken, 'name', there)];
  },
  inWords: ({ name, kind }) => `${name}, ${kindInWords(kind)}`,
  add: addMaterials,
};

const headingOf = (field: string) => materialImport.columns.find((one) => one.field === field)?.heading ?? null;

function inPack(cell: string, cells: Record<string, string>): number {
  const counted = cells.unit?.toLowerCase();
  const known = unit.options.find((option) => option === counted);
  if (known === undefined) throw new RangeError('can only be read with a unit: write g, ml or piece there.');
  return quantity(cell, known);
}

/** Fields such as "firingRange.fromC", one within the other; a part of which no cell was filled is left out. */
function nested(fields: Record<string, unknown>): Record<string, unknown> {
  const body: Record<string, unknown> = {};
  for (const [field, value] of Object.entries(fields)) {
    const [last = '', ...outer] = field.split('.').reverse();
    let within = body;
    for (const name of outer.reverse()) {
      within[name] ??= {};
      within = within[name] as Record<string, unknown>;
    }
    within[last] = value;
  }
  const statement = body.manufacturerStatement as { asks?: object } | undefined;
  // how it is put on and fired may be left to the manufacturer; how many coats has to be said, if only by "any"
  if (statement?.asks) statement.asks = { way: null, firing: null, ...statement.asks };
  return body;
}
