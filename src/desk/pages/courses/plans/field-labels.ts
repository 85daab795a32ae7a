import { Refused } from '../../../api/client';
import { listed } from '../../../format/formatter';
import type { FieldFault } from '../../../forms/parse';
import type { Plan } from './queries';

const FIELDS: Record<string, string> = {
  ...{
    name: 'The name',
    kind: 'How it is sold',
    places: 'Places',
    minimum: 'Minimum students',
    groupOf: 'People in the price',
  },
  ...{ payments: 'Payments', balancePayments: 'Payments of the balance', balanceEveryDays: 'Days between payments' },
  ...{
    otherMinutes: 'Your time outside sessions',
    minutesPerStudent: 'Your time for each student',
    dryingDays: 'Drying',
  },
  ...{
    advertisingMinor: 'Advertising',
    sunkIfCancelledMinor: 'Costs you can’t recover if cancelled',
    secondTutor: 'A second tutor',
  },
  ...{
    firingIncludedLitres: 'Firing in the price',
    broughtLitres: 'What each brings',
    wholeLoads: 'Whole kiln loads',
    sessions: 'Sessions',
    pieces: 'What each makes',
  },
  ...{
    materials: 'What else each uses',
    firings: 'Firings',
    soldAt: 'Concessions',
    parts: 'Parts with another VAT',
    restLabel: 'What the rest is for',
  },
  ...{
    title: 'The title',
    priceMinor: 'The price',
    perHeadAboveMinor: 'For each extra person',
    depositMinor: 'The deposit',
  },
  ...{ holdHours: 'Held for its deposit', balanceDueDays: 'The balance', taxRateId: 'Tax rate' },
  refundPolicyId: 'Refunds',
};
const ONE_OF: Record<string, string> = {
  ...{ sessions: 'Session', pieces: 'Piece', materials: 'Material', firings: 'Firing', soldAt: 'Price', parts: 'Part' },
};
const PARTS: Record<string, string> = {
  ...{ minutes: 'minutes', prepareMinutes: 'to prepare', clearMinutes: 'to clear up', purpose: 'what it is for' },
  ...{ form: 'form', size: 'size', widthMm: 'width', depthMm: 'depth', heightMm: 'height', wetMassGrams: 'wet clay' },
  ...{
    perStudent: 'how many',
    comesAs: 'how it comes',
    clayId: 'clay',
    glaze: 'glaze',
    gramsPerDm2: 'coating',
    tileId: 'test tile',
  },
  ...{ materialId: 'material', kilnId: 'kiln', scheduleId: 'schedule', label: 'name', sharePercent: 'share' },
  ...{ pricePercent: 'part of the price', lessMinor: 'sum less', payments: 'payments', taxRateId: 'tax rate' },
  ...{ amountMinor: 'sum', feeMinor: 'fee', above: 'from how many students' },
  ...{ startsAt: 'when it begins', endsAt: 'when it ends', roomId: 'room', tutorIds: 'tutor' },
};

/** Where on the form a fault lies: "Session 2, minutes" of "#/sessions/1/minutes". */
export function placeOf(pointer: string): string {
  const [field = '', second, ...rest] = pointer.replace(/^#\//, '').split('/');
  const called = ONE_OF[field];
  if (second === undefined) return FIELDS[field] ?? 'The plan';
  if (called === undefined) return `${FIELDS[field] ?? field}, ${PARTS[second] ?? second}`;
  const last = rest.at(-1);
  return last === undefined
    ? `${called} ${Number(second) + 1}`
    : `${called} ${Number(second) + 1}, ${PARTS[last] ?? last}`;
}

const NOT_TYPED = new Set(['id', 'litresPerStudent']);

/** What somebody else changed of a plan, in words that stand in a sentence; '' where nothing is another. */
export function changedBetween(before: Plan, now: Plan): string {
  const [old, latest] = [new Map(Object.entries(before)), new Map(Object.entries(now))];
  const others = [...latest].filter(([field, value]) => JSON.stringify(value) !== JSON.stringify(old.get(field)));
  return listed(
    others
      .filter(([field]) => !NOT_TYPED.has(field))
      .map(([field, value]) => {
        const called = (FIELDS[field] ?? field).replace(/^./, (letter) => letter.toLowerCase());
        return typeof value === 'string' || (typeof value === 'number' && !field.endsWith('Minor'))
          ? `${called} (now ${value})`
          : called;
      }),
  );
}

/** What the API refused, field by field; nothing where it was no fault of a field. */
export const faultsIn = (error: unknown): FieldFault[] => (error instanceof Refused ? error.faults : []);
