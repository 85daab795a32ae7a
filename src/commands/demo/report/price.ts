import type { CoursePrice } from '../../../studio/pricing/contract.js';
import { Decimal, roundHalfUp } from '../../../trade/money/money.js';
import { type Money, noteText, section, table } from './text.js';

const whole = (exact: string) => roundHalfUp(exact);
const percent = (probability: string) => `${new Decimal(probability).times(100).toFixed(1)}%`;
/** Units as one says them of more than one, or of a part. */
const UNITS: Record<string, string> = { piece: 'pieces', 'kiln load': 'of a load' };
const rounded = (quantity: string) => new Decimal(quantity).toDecimalPlaces(3).toFixed().replace('-', '−');

export function priceSection({ title, priceMinor, inputs, result, since }: CoursePrice, money: Money): string {
  const fair = result.fairPriceMinor;
  const why = result.binding === 'surplus' ? surplusInWords(inputs, money) : 'the risk of a poorly paid course';
  const against = priceMinor === fair ? 'which is what it sells for' : `sold today at ${money.inText(priceMinor)}`;
  const answer = `Ask ${money.inText(fair)} a place, ${against}. ${breakEven(result)} The deciding factor is ${why}. ${floors(inputs, result, money)}`;
  const come = noteText(`How many come: ${stated(inputs.enrolment.source)}`);
  const moved = since ? [noteText(movedInWords(since, result.fairPriceMinor, money))] : [];
  return section(
    `What must "${title}" cost?`,
    answer,
    lines(inputs, result, money),
    come,
    ladder(result, money),
    ...moved,
  );
}

/** What has moved since the price was saved, the greatest first. */
function movedInWords(
  { fairPriceMinor, rows }: NonNullable<CoursePrice['since']>,
  todayMinor: number,
  money: Money,
): string {
  const so = `The fair price saved last was ${money.inText(fairPriceMinor)}; today's figures come to ${money.inText(todayMinor)}.`;
  const moved = rows.flatMap(({ line, effectMinor }) => {
    const effect = whole(effectMinor);
    if (!line || effect === 0) return [];
    return [`${line.label} ${money.inText(Math.abs(effect))} ${effect > 0 ? 'dearer' : 'cheaper'} a place`];
  });
  return moved.length === 0 ? so : `${so} Since then: ${moved.join('; ')}.`;
}

function breakEven({ breakEvenStudents, costsCoveredStudents }: CoursePrice['result']): string {
  if (costsCoveredStudents === null) return 'No number of students covers its costs.';
  const students = (n: number) => (n === 1 ? '1 student' : `${n} students`);
  const costs = `its costs are covered from ${students(costsCoveredStudents)} on`;
  if (breakEvenStudents === null) return `No number of students pays your time; ${costs}.`;
  return `It breaks even at ${students(breakEvenStudents)}, your time paid; ${costs}.`;
}

/** "the £56.00 surplus you want (£8.00 for each of 7 hours of teaching)" */
function surplusInWords({ targetSurplusMinor, surplusPerHour }: CoursePrice['inputs'], money: Money): string {
  const sum = `the ${money.inText(targetSurplusMinor)} surplus you want`;
  if (!surplusPerHour) return sum;
  return `${sum} (${money.inText(surplusPerHour.rateMinor)} for each of ${rounded(surplusPerHour.teachingHours)} hours of teaching)`;
}

/** Being paid less than one's hour is worth is not losing money: two floors. */
export function floors(
  { wagePerHourMinor }: Pick<CoursePrice['inputs'], 'wagePerHourMinor'>,
  { costFloorMinor, floorMinor }: Pick<CoursePrice['result'], 'costFloorMinor' | 'floorMinor'>,
  money: Money,
): string {
  return `Below ${money.inText(whole(costFloorMinor))} it costs you money on average; from ${money.inText(whole(floorMinor))} your ${money.inText(wagePerHourMinor)} an hour is paid too.`;
}

const stated = ({ kind, detail }: CoursePrice['inputs']['lines'][number]['source']) =>
  kind === 'assumption' ? `ASSUMED: ${detail}` : detail;

function lines(inputs: CoursePrice['inputs'], result: CoursePrice['result'], money: Money): string {
  const basis = { 'per-student': 'each student', 'per-course': 'the course', 'if-cancelled': 'if cancelled' };
  const rate = (minor: string) => `${money.inTable(whole(minor))}`;
  const rows = result.lines.map((line) => [
    line.label,
    basis[line.basis],
    `${rounded(line.quantity)} ${UNITS[line.unit] ?? line.unit}`,
    rate(line.rateMinor),
    money.inTable(whole(line.amountMinor)),
    stated(line.source),
  ]);
  const hours = [
    ['Your hours', 'the course', `${rounded(inputs.ownerHours)} h`, money.inTable(inputs.wagePerHourMinor)],
    ['Your hours', 'each student', `${rounded(inputs.ownerHoursPerStudent)} h`, money.inTable(inputs.wagePerHourMinor)],
  ].map((row, i) => {
    const quantity = i === 0 ? inputs.ownerHours : inputs.ownerHoursPerStudent;
    const amount = new Decimal(quantity).times(inputs.wagePerHourMinor);
    return [
      ...row,
      money.inTable(roundHalfUp(amount)),
      'What your hour is worth, by the settings; the hours are the plan’s.',
    ];
  });
  const tutor = inputs.secondTutor
    ? [
        [
          'Second tutor',
          `above ${inputs.secondTutor.above}`,
          '1 fee',
          money.inTable(inputs.secondTutor.feeMinor),
          money.inTable(inputs.secondTutor.feeMinor),
          'The plan.',
        ],
      ]
    : [];
  return table(
    [
      { head: 'cost', max: 24 },
      { head: 'for' },
      { head: 'quantity', align: 'right' },
      { head: 'rate', align: 'right' },
      { head: 'amount', align: 'right' },
      { head: 'where the rate comes from', max: 40 },
    ],
    [...rows, ...hours, ...tutor],
  );
}

function ladder(result: CoursePrice['result'], money: Money): string {
  const rows = result.ladder.map((rung) => [
    `${rung.students}${rung.held ? '' : ' (does not run)'}`,
    percent(rung.probability),
    money.inTable(whole(rung.resultMinor)),
    money.inTable(whole(rung.ownerPayPerHourMinor)),
    rung.breakEvenPriceMinor === null ? '' : money.inTable(whole(rung.breakEvenPriceMinor)),
  ]);
  return table(
    [
      { head: 'students' },
      { head: 'how likely', align: 'right' },
      { head: `left over at ${money.inText(result.fairPriceMinor)}`, align: 'right' },
      { head: 'your pay an hour', align: 'right' },
      { head: 'break-even price', align: 'right' },
    ],
    rows,
  );
}
