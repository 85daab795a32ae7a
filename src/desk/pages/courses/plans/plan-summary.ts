import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { formCalled, inMm, kindCalled, number, pluralOf, sizeWord, timeInWords } from './labels';
import type { Piece, Plan, Workshop } from './queries';

type Session = Plan['sessions'][number];

/** "Making, 2 h 30 min; 30 min to prepare and 30 min to clear up." */
export function sessionTimesInWords({ purpose, minutes, prepareMinutes, clearMinutes }: Session): string {
  const around = [
    prepareMinutes > 0 && `${timeInWords(prepareMinutes)} to prepare`,
    clearMinutes > 0 && `${timeInWords(clearMinutes)} to clear up`,
  ].filter((part) => part !== false);
  return `${capital(purpose)}, ${timeInWords(minutes)}${around.length > 0 ? `; ${listed(around)}` : ''}.`;
}

const nameIn = (list: readonly { id: string; name: string }[], id: string): string =>
  list.find((one) => one.id === id)?.name ?? 'something that was removed';

/** "Two mugs, medium (120 × 88 × 95 mm, an assumption): 450 g of Grey body each, with Moss at 4.5 g/dm². They shall look like tile 3, Tide over Chalk." */
export function planPieceInWords(piece: Piece, { materials, tiles }: Workshop, formatter: Formatter): string {
  const { form, size, perStudent, wetMassGrams, comesAs, clayId, glaze, tileId } = piece;
  const word = sizeWord(form, size);
  const measures = word === null ? inMm(size) : `${word} (${inMm(size)}, an assumption)`;
  const coat = glaze
    ? `, with ${nameIn(materials, glaze.materialId)} at ${number(glaze.gramsPerDm2, formatter, 3)}\u00a0g/dm²`
    : ', bare';
  const tile = tiles.find(({ id }) => id === tileId);
  const like = tile ? ` To look like tile ${tile.number}, ${tile.name}.` : '';
  const what = capital(count(perStudent, formCalled(form), pluralOf(form)));
  const made =
    comesAs === null
      ? `${formatQuantity(wetMassGrams ?? 0, 'g', formatter)} of ${nameIn(materials, clayId ?? '')}${perStudent > 1 ? ' each' : ''}`
      : COMES[comesAs];
  return `${what}, ${measures}: ${made}${coat}.${like}`;
}

const COMES = { bisque: 'comes as bisque', fired: 'comes fired' } as const;

/** "Each also uses 200 ml of White slip and 2 × Box." */
export function otherMaterialsInWords(
  { materials: used }: Plan,
  { materials }: Workshop,
  formatter: Formatter,
): string {
  const parts = used.map(({ materialId, perStudent }) => {
    const unit = materials.find(({ id }) => id === materialId)?.unit ?? 'piece';
    return unit === 'piece'
      ? `${perStudent} × ${nameIn(materials, materialId)}`
      : `${formatQuantity(perStudent, unit, formatter)} of ${nameIn(materials, materialId)}`;
  });
  return parts.length === 0 ? '' : `Each also uses ${listed(parts)}.`;
}

/** "It dries 7 days, then goes through Bisque 1000 in the Front kiln and Stoneware glaze in the Front kiln." */
export function firingsInWords(
  { firings, dryingDays, pieces, broughtLitres }: Plan,
  { kilns, schedules }: Workshop,
): string {
  if (firings.length === 0) return 'Nothing is fired.';
  const parts = firings.map(({ kilnId, scheduleId }) => `${nameIn(schedules, scheduleId)} in ${nameIn(kilns, kilnId)}`);
  const brought = broughtLitres === null ? '' : ` Each brings ware for ${broughtLitres}\u00a0l of the kiln.`;
  if (pieces.every(({ comesAs }) => comesAs !== null)) return `It goes through ${listed(parts)}.${brought}`;
  const dries = dryingDays === 1 ? 'a day' : `${dryingDays} days`;
  return `It dries ${dries}, then goes through ${listed(parts)}.${brought}`;
}

/** On what terms its places are sold: what it is about, and how much. Only what says something. */
export function termsInWords(plan: Plan, { taxRates }: Workshop, formatter: Formatter): [string, string][] {
  const { kind, places, minimum, groupOf, secondTutor, soldAt, parts, firingIncludedLitres } = plan;
  const percent = (of: string) => `${number(of, formatter)}%`;
  const prices = soldAt.map(({ label, sharePercent, pricePercent = '100', lessMinor = 0 }) => {
    const part = pricePercent === '100' ? 'the price' : `${percent(pricePercent)} of the price`;
    const less = lessMinor > 0 ? ` less ${formatter.money(lessMinor)}` : '';
    return `${label}: ${part}${less}, expected of ${percent(sharePercent)} of the places`;
  });
  const taxed = parts.map(({ label, taxRateId, sharePercent, amountMinor }) => {
    const much = amountMinor ? formatter.money(amountMinor) : `${percent(sharePercent ?? '0')} of what is paid`;
    return `${label}: ${much} at ${nameIn(taxRates, taxRateId)}`;
  });
  const told: [string, string][] = [
    ['Sold as', kindCalled(kind)],
    [kind === 'openStudio' ? 'Benches' : kind === 'private' ? 'People at most' : 'Places', `${places}`],
    ['People in the price', groupOf === null ? '' : `${groupOf}`],
    ['Minimum students', kind === 'openStudio' ? '' : count(minimum, 'student')],
    [
      'Your time outside sessions',
      `${timeInWords(plan.otherMinutes)} altogether, ${timeInWords(plan.minutesPerStudent)} a student`,
    ],
    [
      'Second tutor',
      secondTutor ? `above ${secondTutor.above} students, for ${formatter.money(secondTutor.feeMinor)}` : '',
    ],
    ['Prices below', prices.join('; ')],
    [
      'Firing in the price',
      firingIncludedLitres === null ? '' : `${number(firingIncludedLitres, formatter)}\u00a0l a student`,
    ],
    ['A firing is paid', plan.wholeLoads ? 'by whole loads, as a full course needs them' : ''],
    ['Other VAT', taxed.join('; ')],
    ['Advertising', plan.advertisingMinor > 0 ? formatter.money(plan.advertisingMinor) : ''],
    [
      'Costs you can’t recover if cancelled',
      plan.sunkIfCancelledMinor > 0 ? formatter.money(plan.sunkIfCancelledMinor) : '',
    ],
    ['Paid in', `${count(plan.payments, 'payment')}${balanceTold(plan)}`],
  ];
  return told.filter(([, what]) => what !== '');
}

const balanceTold = ({ balancePayments, balanceEveryDays }: Plan): string =>
  balancePayments > 1 ? `, the balance in ${balancePayments}, ${balanceEveryDays} days apart` : '';
