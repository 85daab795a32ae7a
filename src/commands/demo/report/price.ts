import type { CoursePrice } from '../../../studio/planning/price-contract.js';
import { Decimal, roundHalfUp } from '../../../trade/money.js';
import { note, section, table } from './text.js';

type Money = (minor: number) => string;

const whole = (exact: string) => roundHalfUp(exact);
const percent = (probability: string) => `${new Decimal(probability).times(100).toFixed(1)} %`;
/** Units as one says them of more than one, or of a part. */
const UNITS: Record<string, string> = { piece: 'pieces', 'kiln load': 'of a load' };
const rounded = (quantity: string) => new Decimal(quantity).toDecimalPlaces(3).toFixed();

export function priceSection({ title, priceMinor, inputs, result }: CoursePrice, money: Money): string {
  const fair = result.fairPriceMinor;
  const why = result.binding === 'surplus' ? 'the surplus you want' : 'the risk of a poorly paid course';
  const carry =
    result.breakEvenStudents === null
      ? 'No number of students carries it'
      : `${result.breakEvenStudents} students carry it`;
  const against = priceMinor === fair ? 'which is what it is sold at' : `sold today at ${money(priceMinor)}`;
  const answer = `Ask ${money(fair)} a place, ${against}. ${carry}; ${why} decides. Below ${money(whole(result.floorMinor))} it loses money on average.`;
  const come = note(`How many come: ${stated(inputs.enrolment.source)}`);
  return section(`What must "${title}" cost?`, answer, lines(inputs, result, money), come, ladder(result, money));
}

const stated = ({ kind, detail }: CoursePrice['inputs']['lines'][number]['source']) =>
  kind === 'assumption' ? `ASSUMED: ${detail}` : detail;

function lines(inputs: CoursePrice['inputs'], result: CoursePrice['result'], money: Money): string {
  const basis = { 'per-student': 'each student', 'per-course': 'the course', 'if-cancelled': 'if not held' };
  const rate = (minor: string) => `${money(whole(minor))}`;
  const rows = result.lines.map((line) => [
    line.label,
    basis[line.basis],
    `${rounded(line.quantity)} ${UNITS[line.unit] ?? line.unit}`,
    rate(line.rateMinor),
    money(whole(line.amountMinor)),
    stated(line.source),
  ]);
  const hours = [
    ['Your hours', 'the course', `${rounded(inputs.ownerHours)} h`, money(inputs.wagePerHourMinor)],
    ['Your hours', 'each student', `${rounded(inputs.ownerHoursPerStudent)} h`, money(inputs.wagePerHourMinor)],
  ].map((row, i) => {
    const quantity = i === 0 ? inputs.ownerHours : inputs.ownerHoursPerStudent;
    const amount = new Decimal(quantity).times(inputs.wagePerHourMinor);
    return [...row, money(roundHalfUp(amount)), 'What your hour is worth, by the settings; the hours are the plan’s.'];
  });
  const tutor = inputs.secondTutor
    ? [
        [
          'Second tutor',
          `above ${inputs.secondTutor.above}`,
          '1 fee',
          money(inputs.secondTutor.feeMinor),
          money(inputs.secondTutor.feeMinor),
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
    `${rung.students}${rung.held ? '' : ' (not held)'}`,
    percent(rung.probability),
    money(whole(rung.resultMinor)),
    money(whole(rung.ownerPayPerHourMinor)),
    rung.costPerStudentMinor === null ? '' : money(whole(rung.costPerStudentMinor)),
  ]);
  return table(
    [
      { head: 'students' },
      { head: 'how likely', align: 'right' },
      { head: `left over at ${money(result.fairPriceMinor)}`, align: 'right' },
      { head: 'your pay an hour', align: 'right' },
      { head: 'cost per student', align: 'right' },
    ],
    rows,
  );
}
