import type { Size, VesselShape } from '../../../../trade/materials/vessel-shapes.js';
import { majorUnits } from '../../../../trade/money/money.js';
import { sizeWord } from './labels';
import type { Piece, Plan, Purpose, Workshop } from './queries';
import type { FeePer } from './tutor-fee';

// A plan as it is typed: every number is text until it is sent, so that nothing is lost where it can't be read.

type Keyed = { key: string };
export type SessionLine = Keyed & { purpose: Purpose; minutes: string; prepareMinutes: string; clearMinutes: string };
export type PieceLine = Keyed & {
  form: VesselShape;
  size: Size | 'measured';
  widthMm: string;
  depthMm: string;
  heightMm: string;
  wetMassGrams: string;
  perStudent: string;
  /** '': students make it */
  comesAs: '' | 'bisque' | 'fired';
  clayId: string;
  /** '': bare clay */
  glazeId: string;
  gramsPerDm2: string;
  /** '': none */
  tileId: string;
};
export type OtherLine = Keyed & { materialId: string; perStudent: string };
export type FiringLine = Keyed & { kilnId: string; scheduleId: string };
export type SoldLine = Keyed & {
  label: string;
  sharePercent: string;
  pricePercent: string;
  less: string;
  payments: string;
};
export type PartLine = Keyed & { label: string; taxRateId: string; by: 'share' | 'sum'; much: string };

type Figures =
  | ('places' | 'minimum' | 'groupOf' | 'payments' | 'balancePayments' | 'balanceEveryDays')
  | ('otherMinutes' | 'minutesPerStudent' | 'dryingDays' | 'advertising' | 'sunkIfCancelled')
  | ('secondFee' | 'secondAbove' | 'firingIncludedLitres' | 'broughtLitres' | 'restLabel');

export type Draft = Record<'name' | Figures, string> & {
  kind: Plan['kind'];
  /** of a new plan: the room that its places were taken from; a plan keeps the number only */
  roomId?: string;
  hasSecond: boolean;
  /** what the fee is typed for; absent in what a browser kept before it could be said: the whole course */
  secondPer?: FeePer;
  wholeLoads: boolean;
  sessions: SessionLine[];
  pieces: PieceLine[];
  materials: OtherLine[];
  firings: FiringLine[];
  soldAt: SoldLine[];
  parts: PartLine[];
};

export const keyed = <T extends object>(line: T): T & Keyed => ({ ...line, key: crypto.randomUUID() });

/** What a first plan begins with: two sessions and a kiln's usual two firings, which most courses have; all of it is there to be changed. */
export function emptyDraft({ materials, kilns, schedules, rooms }: Workshop): Draft {
  const [bisque, glaze] = ['bisque', 'glaze'].map((kind) => schedules.find((schedule) => schedule.kind === kind));
  const [kiln] = kilns;
  const room = rooms.length === 1 ? rooms[0] : undefined;
  return {
    ...{ name: '', kind: 'course', groupOf: '', payments: '2', roomId: room?.id ?? '' },
    ...(room ? placesIn(room, '4') : { places: '8', minimum: '4' }),
    ...{ balancePayments: '1', balanceEveryDays: '28', otherMinutes: '240', minutesPerStudent: '15', dryingDays: '7' },
    ...{ advertising: '0', sunkIfCancelled: '0', secondFee: '', secondAbove: '', firingIncludedLitres: '' },
    ...{ restLabel: '', broughtLitres: '', hasSecond: false, wholeLoads: false },
    sessions: [sessionLine('making'), sessionLine('glazing')],
    pieces: [pieceLine(materials)],
    materials: [],
    firings: [bisque, glaze].flatMap((schedule) =>
      kiln && schedule ? [keyed({ kilnId: kiln.id, scheduleId: schedule.id })] : [],
    ),
    ...{ soldAt: [], parts: [] },
  };
}

/** As many places as people can work in a room, and no more students needed than there are places. */
export function placesIn({ benches }: Workshop['rooms'][number], minimum: string): Pick<Draft, 'places' | 'minimum'> {
  const places = Math.min(benches, PLACES_MAX);
  return { places: `${places}`, minimum: Number(minimum) > places ? `${places}` : minimum };
}
/** As the API has it. */
const PLACES_MAX = 200;

export const sessionLine = (purpose: Purpose): SessionLine =>
  keyed({ purpose, minutes: '150', prepareMinutes: '30', clearMinutes: '30' });

export function pieceLine(materials: Workshop['materials']): PieceLine {
  return keyed({
    ...{ form: 'mug' as const, size: 'medium' as const, widthMm: '', depthMm: '', heightMm: '' },
    ...{ wetMassGrams: '450', perStudent: '1', gramsPerDm2: '4.5', glazeId: '', tileId: '', comesAs: '' as const },
    clayId: materials.find(({ kind }) => kind === 'clay')?.id ?? '',
  });
}

/** A plan as a form shows it. */
export function draftOf(plan: Plan, { studio: { currency }, materials }: Workshop): Draft {
  const money = (minor: number) => majorUnits(minor, currency);
  const unitOf = new Map(materials.map(({ id, unit }) => [id, unit]));
  return {
    ...{ name: plan.name, kind: plan.kind, places: `${plan.places}`, minimum: `${plan.minimum}` },
    ...{ groupOf: `${plan.groupOf ?? ''}`, payments: `${plan.payments}` },
    ...{ balancePayments: `${plan.balancePayments}`, balanceEveryDays: `${plan.balanceEveryDays}` },
    ...{ otherMinutes: `${plan.otherMinutes}`, minutesPerStudent: `${plan.minutesPerStudent}` },
    ...{ dryingDays: `${plan.dryingDays}`, firingIncludedLitres: plan.firingIncludedLitres ?? '' },
    broughtLitres: plan.broughtLitres ?? '',
    ...{ advertising: money(plan.advertisingMinor), sunkIfCancelled: money(plan.sunkIfCancelledMinor) },
    ...{ hasSecond: plan.secondTutor !== null, wholeLoads: plan.wholeLoads },
    secondFee: plan.secondTutor ? money(plan.secondTutor.feeMinor) : '',
    secondAbove: `${plan.secondTutor?.above ?? ''}`,
    restLabel: plan.restLabel ?? '',
    sessions: plan.sessions.map(({ purpose, minutes, prepareMinutes, clearMinutes }) =>
      keyed({
        purpose,
        minutes: `${minutes}`,
        prepareMinutes: `${prepareMinutes}`,
        clearMinutes: `${clearMinutes}`,
      }),
    ),
    pieces: plan.pieces.map(pieceTyped),
    materials: plan.materials.map(({ materialId, perStudent }) => {
      const unit = unitOf.get(materialId);
      return keyed({ materialId, perStudent: unit === 'piece' || !unit ? `${perStudent}` : `${perStudent} ${unit}` });
    }),
    firings: plan.firings.map(({ kilnId, scheduleId }) => keyed({ kilnId, scheduleId })),
    soldAt: plan.soldAt.map(({ label, sharePercent, pricePercent = '100', lessMinor = 0, payments }) =>
      keyed({ label, sharePercent, pricePercent, less: money(lessMinor), payments: `${payments ?? ''}` }),
    ),
    parts: plan.parts.map(({ label, taxRateId, sharePercent, amountMinor }) =>
      keyed({
        ...{ label, taxRateId, by: amountMinor ? ('sum' as const) : ('share' as const) },
        much: amountMinor ? money(amountMinor) : (sharePercent ?? ''),
      }),
    ),
  };
}

function pieceTyped({ form, size, wetMassGrams, perStudent, comesAs, clayId, glaze, tileId }: Piece): PieceLine {
  return keyed({
    ...{ form, size: sizeWord(form, size) ?? ('measured' as const), tileId: tileId ?? '' },
    ...{ comesAs: comesAs ?? ('' as const), clayId: clayId ?? '' },
    ...{ widthMm: `${size.widthMm}`, depthMm: `${size.depthMm}`, heightMm: `${size.heightMm}` },
    ...{ wetMassGrams: `${wetMassGrams ?? ''}`, perStudent: `${perStudent}` },
    ...{ glazeId: glaze?.materialId ?? '', gramsPerDm2: glaze?.gramsPerDm2 ?? '' },
  });
}
