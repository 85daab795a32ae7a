import type { CostKind, CostLine, MaterialUse } from '../../src/trade/pricing/price-inputs.js';

// What the lines of examples pay for, and under which key.

export type Of = CostKind & { key: string };

const material = (use: MaterialUse): Of => ({
  ...{ kind: 'material', materialId: `${use}-material`, use, isReclaim: false, key: `${use}-1` },
});
export const CLAY = material('clay');
export const GLAZE = material('glaze');
export const OTHER = material('other');
export const RECLAIM = { ...CLAY, isReclaim: true, key: 'clay-1-reclaim' };
export const BISQUE: Of = {
  ...{ kind: 'firing', key: 'firing-1', wholeLoads: false },
  firing: { kilnId: 'kiln', scheduleId: 'slow', kind: 'bisque' },
};
export const WHOLE_GLAZE: Of = {
  ...{ kind: 'firing', key: 'firing-2', wholeLoads: true },
  firing: { kilnId: 'kiln', scheduleId: 'hot', kind: 'glaze' },
};
export const ROOM: Of = { kind: 'room', key: 'room' };
export const ADVERTISING: Of = { kind: 'advertising', key: 'advertising' };
export const SUNK: Of = { kind: 'sunk', key: 'sunk' };

/** Something for each way in which a cost is paid. */
export const BY_BASIS: Record<CostLine['basis'], Of> = {
  ...{ 'per-student': OTHER, 'per-course': ROOM, 'if-cancelled': SUNK },
};
