import type { Prisma } from '../../database/generated/client.js';
import { fromDate, fromDecimal } from '../../database/values.js';
import { type FiringKind, litresPerStudent, type PlannedWare } from '../../trade/firing/kiln-room.js';
import { sizeFrom } from '../../trade/materials/vessel-shapes.js';
import type { NewPlan, Plan } from './plan-contract.js';

// A plan as it lies in its tables, and as its address shows it.

export const PLAN_INCLUDE = {
  planSessions: { orderBy: { ordinal: 'asc' } },
  planPieces: {
    orderBy: { ordinal: 'asc' },
    include: { clay: { select: { firingShrinkagePercent: true } } }, // by which it is larger before the fire
  },
  planMaterials: { orderBy: { materialId: 'asc' } },
  planFirings: { orderBy: { ordinal: 'asc' } },
  planConcessions: { orderBy: { ordinal: 'asc' } },
  planParts: { orderBy: { ordinal: 'asc' } },
} as const satisfies Prisma.CoursePlanInclude;

/** The row of a plan with all that belongs to it. */
export function planRows({ sessions, pieces, materials, firings, secondTutor, soldAt, parts, ...rest }: NewPlan) {
  return {
    ...rest,
    secondTutorFeeMinor: secondTutor?.feeMinor ?? null,
    secondTutorAbove: secondTutor?.above ?? null,
    planSessions: { create: numbered(sessions) },
    planPieces: { create: numbered(pieces.map(pieceRow)) },
    planMaterials: { create: materials },
    planFirings: { create: numbered(firings) },
    planConcessions: { create: numbered(soldAt) },
    planParts: { create: numbered(parts) },
  };
}

const numbered = <T>(items: readonly T[]) => items.map((item, i) => ({ ...item, ordinal: i + 1 }));

function pieceRow({ form, size, glaze, ...rest }: NewPlan['pieces'][number]) {
  return {
    ...rest,
    ...(typeof size === 'string' ? sizeFrom(form, size) : size),
    form,
    glazeId: glaze?.materialId ?? null,
    gramsPerDm2: glaze?.gramsPerDm2 ?? null,
  };
}

export function toPlan(row: Prisma.CoursePlanGetPayload<{ include: typeof PLAN_INCLUDE }>): Plan {
  const { planSessions, planPieces, planMaterials, planFirings, planConcessions, planParts, ...columns } = row;
  const { secondTutorFeeMinor, secondTutorAbove, firingIncludedLitres, broughtLitres, retiredOn, ...rest } = columns;
  const brought = broughtLitres && fromDecimal(broughtLitres);
  const litres = (kind: FiringKind) => litresPerStudent(kind, planPieces.map(wareOf), brought);
  return {
    ...rest,
    retiredOn: retiredOn && fromDate(retiredOn),
    firingIncludedLitres: firingIncludedLitres && fromDecimal(firingIncludedLitres),
    broughtLitres: brought,
    litresPerStudent: { bisque: litres('bisque'), glaze: litres('glaze'), lustre: litres('lustre') },
    secondTutor:
      secondTutorFeeMinor === null || secondTutorAbove === null
        ? null
        : { feeMinor: secondTutorFeeMinor, above: secondTutorAbove },
    sessions: planSessions.map(({ purpose, minutes, prepareMinutes, clearMinutes }) => ({
      purpose,
      minutes,
      prepareMinutes,
      clearMinutes,
    })),
    pieces: planPieces.map(showPiece),
    materials: planMaterials.map(({ materialId, perStudent }) => ({ materialId, perStudent })),
    firings: planFirings.map(({ kilnId, scheduleId }) => ({ kilnId, scheduleId })),
    soldAt: planConcessions.map(({ label, sharePercent, pricePercent, lessMinor, payments }) => ({
      ...{ label, lessMinor, payments },
      ...{ sharePercent: fromDecimal(sharePercent), pricePercent: fromDecimal(pricePercent) },
    })),
    parts: planParts.map(({ label, taxRateId, sharePercent, amountMinor }) => ({
      ...{ label, taxRateId, amountMinor },
      sharePercent: sharePercent && fromDecimal(sharePercent),
    })),
  };
}

type PieceRow = Prisma.CoursePlanGetPayload<{ include: typeof PLAN_INCLUDE }>['planPieces'][number];

function wareOf({ clay, ...piece }: PieceRow): PlannedWare {
  const shrinkage = clay?.firingShrinkagePercent;
  return { ...piece, firingShrinkagePercent: shrinkage ? fromDecimal(shrinkage) : null };
}

function showPiece(row: PieceRow): Plan['pieces'][number] {
  const { form, widthMm, depthMm, heightMm, wetMassGrams, perStudent, clayId, glazeId, gramsPerDm2, tileId, comesAs } =
    row;
  const glaze =
    glazeId === null || gramsPerDm2 === null ? null : { materialId: glazeId, gramsPerDm2: fromDecimal(gramsPerDm2) };
  return { form, size: { widthMm, depthMm, heightMm }, wetMassGrams, perStudent, clayId, glaze, tileId, comesAs };
}
