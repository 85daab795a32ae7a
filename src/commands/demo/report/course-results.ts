import type { CourseResults } from '../../../studio/course-results/contract.js';
import { Decimal } from '../../../trade/money/money.js';
import { type Money, noteText, section, table } from './text.js';

/** What a past course was to come to and what it came to, line by line. */
export function courseResultsSection(was: CourseResults, money: Money): string {
  const { planned, real, differenceMinor, lines, title, students } = was;
  const better = differenceMinor < 0 ? 'worse' : 'better';
  const pay =
    real.payPerHourMinor === null ? 'your time was not noted' : `${money.inText(real.payPerHourMinor)} an hour for you`;
  const answer = `Counting only lines with an actual figure, it left ${money.inText(real.resultMinor)} where ${money.inText(planned.resultMinor)} was planned for ${students} students: ${money.inText(Math.abs(differenceMinor))} ${better}; ${pay}.`;
  const rows = lines.map((line) => [
    line.label,
    amount(line.planned, line.unit),
    money.inTable(line.planned.amountMinor),
    line.real ? amount(line.real, line.unit) : '',
    line.real ? money.inTable(line.real.amountMinor) : 'not known',
    line.differenceMinor === null ? '' : money.inTable(line.differenceMinor),
  ]);
  const total = [
    'Total of lines with an actual figure',
    '',
    money.inTable(planned.resultMinor),
    '',
    money.inTable(real.resultMinor),
  ];
  return section(
    `What did "${title}" really cost?`,
    answer,
    table(
      [
        { head: 'what', max: 36 },
        { head: 'planned', align: 'right' },
        { head: '', align: 'right' },
        { head: 'actual', align: 'right' },
        { head: '', align: 'right' },
        { head: 'better by', align: 'right' },
      ],
      [...rows, [...total, money.inTable(differenceMinor)]],
    ),
    noteText(`${was.plannedFrom.detail} Lines without an actual figure are left out of both totals.`),
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
