import type { Prisma } from '../../database/generated/client.js';
import { fromDecimal } from '../../database/values.js';
import { boxVolumeMm3, KILN_GAP_MM, sizeFrom } from '../../trade/forms.js';
import { Decimal } from '../../trade/money.js';
import type { NewPlan, Plan } from './plan-contract.js';

// A plan as it lies in its tables, and as its address shows it.

export const WHOLE = {
  planSessions: { orderBy: { ordinal: 'asc' } },
  planPieces: { orderBy: { ordinal: 'asc' } },
  planMaterials: { orderBy: { materialId: 'asc' } },
  planFirings: { orderBy: { ordinal: 'asc' } },
  planConcessions: { orderBy: { ordinal: 'asc' } },
  planParts: { orderBy: { ordinal: 'asc' } },
} as const satisfies Prisma.CoursePlanInclude;

/** The row of a plan with all that belongs to it. */
export function rowsOf({ sessions, pieces, materials, firings, secondTutor, soldAt, parts, ...rest }: NewPlan) {
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

export function show(row: Prisma.CoursePlanGetPayload<{ include: typeof WHOLE }>): Plan {
  const { planSessions, planPieces, planMaterials, planFirings, planConcessions, planParts, ...columns } = row;
  const { secondTutorFeeMinor, secondTutorAbove, firingIncludedLitres, ...rest } = columns;
  const pieces = planPieces.map(showPiece);
  return {
    ...rest,
    firingIncludedLitres: firingIncludedLitres && fromDecimal(firingIncludedLitres),
    litresPerStudent: litresOf(pieces),
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
    pieces,
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

const MM3_PER_LITRE = 1_000_000;

/** What one student's pieces take in a kiln: the boxes by which a firing is shared out. */
function litresOf(pieces: Plan['pieces']): string {
  const mm3 = pieces.reduce((sum, { size, perStudent }) => sum + boxVolumeMm3(size, KILN_GAP_MM) * perStudent, 0);
  return new Decimal(mm3).div(MM3_PER_LITRE).toFixed(); // exact: a firing's share is reckoned from it
}

function showPiece(row: Prisma.PlanPieceGetPayload<object>): Plan['pieces'][number] {
  const { form, widthMm, depthMm, heightMm, wetMassGrams, perStudent, clayId, glazeId, gramsPerDm2, tileId } = row;
  const glaze =
    glazeId === null || gramsPerDm2 === null ? null : { materialId: glazeId, gramsPerDm2: fromDecimal(gramsPerDm2) };
  return { form, size: { widthMm, depthMm, heightMm }, wetMassGrams, perStudent, clayId, glaze, tileId };
}
