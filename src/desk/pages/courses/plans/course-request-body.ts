import { majorUnits } from '../../../../trade/money/money.js';
import type { Schemas } from '../../../api/client';
import { type FieldFault, reader } from '../../../forms/parse';
import { isSkipped, minutesAt, type Paced, timesOf, type When } from './calendar-dates';
import type { Places, Plan } from './queries';

/** A course as it is typed. */
export type CourseDraft = {
  title: string;
  places: string;
  minimum: string;
  price: string;
  perHeadAbove: string;
  deposit: string;
  holdHours: string;
  balanceDueDays: string;
  taxRateId: string;
  refundPolicyId: string;
  roomId: string;
  /** '': nobody yet */
  tutorId: string;
  dates: When[];
  /** of the days on which the studio is closed, those on which a session takes place all the same */
  onClosedDays: readonly string[];
};

/** What a course begins with: as the plan says, and as its last course was held; without one its price is left for its owner to say. */
export function courseDraft(plan: Plan, { rooms, refundPolicies, staff, last }: Places, currency: string): CourseDraft {
  const money = (minor: number | null | undefined) => (minor ? majorUnits(minor, currency) : '');
  const [first] = last?.sessions ?? [];
  const tutor = first?.tutors.find(({ id }) => staff.some((member) => member.id === id));
  return {
    ...{ title: last?.title ?? plan.name, places: `${plan.places}`, minimum: `${plan.minimum}` },
    ...{
      price: money(last?.priceMinor),
      perHeadAbove: money(last?.perHeadAboveMinor),
      deposit: money(last?.depositMinor),
    },
    ...{ holdHours: `${last?.holdHours ?? 72}`, balanceDueDays: `${last?.balanceDueDays ?? 14}` },
    ...{ taxRateId: last?.taxRateId ?? '', refundPolicyId: last?.refundPolicyId ?? refundPolicies[0]?.id ?? '' },
    ...{ roomId: first?.roomId ?? rooms[0]?.id ?? '', tutorId: tutor?.id ?? '' },
    dates: plan.sessions.map(() => ({ day: '', time: '' })),
    onClosedDays: [],
  };
}

/** Its sessions as the API takes them; null where a day or a time is missing. */
export function sessionsOf(draft: CourseDraft, paced: Paced): (Schemas['NewCourse']['sessions'][number] | null)[] {
  return draft.dates.map((when, i) => {
    const times = timesOf(when, minutesAt(paced, i), paced.timeZone);
    return (
      times && {
        ...{ ...times, roomId: draft.roomId, tutorIds: draft.tutorId === '' ? [] : [draft.tutorId] },
        ...(draft.onClosedDays.includes(when.day) && { onClosedDay: true }),
      }
    );
  });
}

/** A course as the API takes it, and what of it can't be read. */
export function courseBody(draft: CourseDraft, plan: Plan, paced: Paced, currency: string) {
  const read = reader(currency);
  const { kind } = plan;
  const sessions = sessionsOf(draft, paced).map((session, i) => {
    const at = `/sessions/${i}/startsAt`;
    const when = draft.dates[i];
    if (!session) read.wrong(at, 'Give a day and a time.');
    if (when && isSkipped(when, paced.timeZone))
      read.wrong(at, `There is no ${when.time} on that day: the clocks go forward then. Give another time.`);
    return session ?? { startsAt: '', endsAt: '', roomId: draft.roomId, tutorIds: [] };
  });
  const body: Schemas['NewCourse'] = {
    planId: plan.id,
    title: read.text('/title', draft.title),
    places: read.whole('/places', draft.places),
    minimum: kind === 'openStudio' ? 0 : read.whole('/minimum', draft.minimum),
    priceMinor: read.money('/priceMinor', draft.price),
    ...(kind === 'private' && { perHeadAboveMinor: read.money('/perHeadAboveMinor', draft.perHeadAbove) }),
    depositMinor: draft.deposit.trim() === '' ? 0 : read.money('/depositMinor', draft.deposit),
    holdHours: read.whole('/holdHours', draft.holdHours),
    balanceDueDays: read.whole('/balanceDueDays', draft.balanceDueDays),
    taxRateId: read.chosen('/taxRateId', draft.taxRateId),
    refundPolicyId: read.chosen('/refundPolicyId', draft.refundPolicyId),
    sessions,
  };
  if (draft.roomId === '') read.wrong('/roomId', 'Choose one.');
  return { body, faults: read.faults as FieldFault[] };
}
