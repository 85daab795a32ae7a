import type { SizeMm } from '../../../../trade/materials/vessel-shapes.js';
import { type FieldFault, type Reader, reader } from '../../../forms/parse';
import type { Draft, OtherLine, PartLine, PieceLine, SoldLine } from './form-values';
import type { PlanBody, Workshop } from './queries';
import { feeOf } from './tutor-fee';

export type Sent = { body: PlanBody; faults: FieldFault[] };

/** A plan as the API takes it, and what of it can't be read; nothing is sent while there are faults. */
export function bodyOf(draft: Draft, { studio, materials }: Workshop): Sent {
  const read = reader(studio.currency);
  const units = new Map(materials.map(({ id, unit }) => [id, unit]));
  const body: PlanBody = {
    name: read.text('/name', draft.name),
    ...termsOf(draft, read),
    sessions: draft.sessions.map(({ purpose, ...typed }, i) => ({
      purpose,
      minutes: read.whole(`/sessions/${i}/minutes`, typed.minutes),
      prepareMinutes: read.whole(`/sessions/${i}/prepareMinutes`, typed.prepareMinutes),
      clearMinutes: read.whole(`/sessions/${i}/clearMinutes`, typed.clearMinutes),
    })),
    pieces: draft.pieces.map((line, i) => pieceOf(line, `/pieces/${i}`, read)),
    materials: draft.materials.map(({ materialId, perStudent }: OtherLine, i) => ({
      materialId: read.chosen(`/materials/${i}/materialId`, materialId),
      perStudent: read.quantity(`/materials/${i}/perStudent`, perStudent, units.get(materialId) ?? 'g'),
    })),
    firings: draft.firings.map(({ kilnId, scheduleId }, i) => ({
      kilnId: read.chosen(`/firings/${i}/kilnId`, kilnId),
      scheduleId: read.chosen(`/firings/${i}/scheduleId`, scheduleId),
    })),
  };
  return { body, faults: read.faults };
}

function termsOf(draft: Draft, read: Reader) {
  const { kind, hasSecond } = draft;
  const litresOf = (name: 'firingIncludedLitres' | 'broughtLitres') =>
    draft[name].trim() === '' ? null : read.decimal(`/${name}`, draft[name]);
  return {
    kind,
    places: read.whole('/places', draft.places),
    minimum: kind === 'openStudio' ? 0 : read.whole('/minimum', draft.minimum),
    groupOf: kind === 'private' ? read.whole('/groupOf', draft.groupOf) : null,
    payments: read.whole('/payments', draft.payments),
    balancePayments: read.whole('/balancePayments', draft.balancePayments),
    balanceEveryDays: read.whole('/balanceEveryDays', draft.balanceEveryDays),
    otherMinutes: read.whole('/otherMinutes', draft.otherMinutes),
    minutesPerStudent: read.whole('/minutesPerStudent', draft.minutesPerStudent),
    dryingDays: read.whole('/dryingDays', draft.dryingDays),
    advertisingMinor: read.money('/advertisingMinor', draft.advertising),
    sunkIfCancelledMinor: read.money('/sunkIfCancelledMinor', draft.sunkIfCancelled),
    secondTutor: hasSecond
      ? {
          feeMinor: feeOf(draft, read.money('/secondTutor/feeMinor', draft.secondFee)),
          above: read.whole('/secondTutor/above', draft.secondAbove),
        }
      : null,
    wholeLoads: draft.wholeLoads,
    firingIncludedLitres: litresOf('firingIncludedLitres'),
    broughtLitres: litresOf('broughtLitres'),
    soldAt: kind === 'private' ? [] : draft.soldAt.map((line, i) => soldOf(line, `/soldAt/${i}`, read)),
    parts: draft.parts.map((line, i) => partOf(line, `/parts/${i}`, read)),
    restLabel: draft.restLabel.trim() || null,
  };
}

function pieceOf(line: PieceLine, at: string, read: Reader): PlanBody['pieces'][number] {
  const { form, size, comesAs, glazeId, tileId } = line;
  const isMade = comesAs === '';
  return {
    form,
    size: size === 'measured' ? sizeOf(line, at, read) : size,
    wetMassGrams: isMade ? read.quantity(`${at}/wetMassGrams`, line.wetMassGrams, 'g') : null,
    perStudent: read.whole(`${at}/perStudent`, line.perStudent),
    comesAs: isMade ? null : comesAs,
    clayId: isMade ? read.chosen(`${at}/clayId`, line.clayId) : null,
    glaze:
      glazeId === ''
        ? null
        : { materialId: glazeId, gramsPerDm2: read.decimal(`${at}/glaze/gramsPerDm2`, line.gramsPerDm2) },
    tileId: tileId === '' ? null : tileId,
  };
}

const MOST_MM = 2000;

/** Its limits stand here too: of a size that is a word or three numbers the API only says that it is neither. */
function sizeOf(line: PieceLine, at: string, read: Reader): SizeMm {
  const mm = (side: keyof SizeMm) => {
    const whole = read.whole(`${at}/size/${side}`, line[side]);
    const said = read.faults.some(({ pointer }) => pointer === `#${at}/size/${side}`);
    if (!said && (whole < 1 || whole > MOST_MM)) read.wrong(`${at}/size/${side}`, `Write 1 to ${MOST_MM} mm.`);
    return whole;
  };
  return { widthMm: mm('widthMm'), depthMm: mm('depthMm'), heightMm: mm('heightMm') };
}

function soldOf({ label, sharePercent, pricePercent, less, payments }: SoldLine, at: string, read: Reader) {
  return {
    label: read.text(`${at}/label`, label),
    sharePercent: read.decimal(`${at}/sharePercent`, sharePercent),
    pricePercent: read.decimal(`${at}/pricePercent`, pricePercent),
    lessMinor: less.trim() === '' ? 0 : read.money(`${at}/lessMinor`, less),
    payments: payments.trim() === '' ? null : read.whole(`${at}/payments`, payments),
  };
}

function partOf({ label, taxRateId, by, much }: PartLine, at: string, read: Reader) {
  return {
    label: read.text(`${at}/label`, label),
    taxRateId: read.chosen(`${at}/taxRateId`, taxRateId),
    sharePercent: by === 'share' ? read.decimal(`${at}/sharePercent`, much) : null,
    amountMinor: by === 'sum' ? read.money(`${at}/amountMinor`, much) : null,
  };
}
