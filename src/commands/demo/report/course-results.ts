import type { Afterwards } from '../../../studio/course-results/contract.js';
import { Decimal } from '../../../trade/money/money.js';
import { note, section, table } from './text.js';

type Money = (minor: number) => string;

/** What a past course was to come to and what it came to, line by line. */
export function afterwardsSection(was: Afterwards, money: Money): string {
  const { planned, real, differenceMinor, lines, title, students } = was;
  const better = differenceMinor < 0 ? 'worse' : 'better';
  const pay =
    real.payPerHourMinor === null ? 'your time was not noted' : `${money(real.payPerHourMinor)} an hour for you`;
  const answer = `By what is known of both sides it left ${money(real.resultMinor)} where ${money(planned.resultMinor)} was planned for ${students} students: ${money(Math.abs(differenceMinor))} ${better}; ${pay}.`;
  const rows = lines.map((line) => [
    line.label,
    amount(line.planned, line.unit),
    money(line.planned.amountMinor),
    line.real ? amount(line.real, line.unit) : '',
    line.real ? money(line.real.amountMinor) : 'not known',
    line.differenceMinor === null ? '' : money(line.differenceMinor),
  ]);
  const together = ['Left, of what is known', '', money(planned.resultMinor), '', money(real.resultMinor)];
  return section(
    `What did "${title}" really cost?`,
    answer,
    table(
      [
        { head: 'what', max: 36 },
        { head: 'planned', align: 'right' },
        { head: '', align: 'right' },
        { head: 'real', align: 'right' },
        { head: '', align: 'right' },
        { head: 'better by', align: 'right' },
      ],
      [...rows, [...together, money(differenceMinor)]],
    ),
    note(`${was.plannedFrom.detail} What is not known stands in neither sum.`),
  );
}

const UNITS: Record<string, string> = {
  place: 'places',
  payment: 'payments',
  piece: 'pieces',
  'kiln load': 'of a load',
};

const amount = ({ quantity }: { quantity: string }, unit: string): string =>
  `${new Decimal(quantity).toDecimalPlaces(2).toFixed().replace('-', '−')} ${UNITS[unit] ?? unit}`;
