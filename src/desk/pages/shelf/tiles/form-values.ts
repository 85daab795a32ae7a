import type { Schemas } from '../../../api/client';
import type { Tile } from './queries';

type Layer = Tile['layers'][number];
/** A layer as it is typed. */
export type LayerLine = { key: string; materialId: string; coats: string; way: Layer['way'] };

export const WAYS = [
  ['dipped', 'dipped'],
  ['brushed', 'brushed'],
  ['poured', 'poured'],
  ['sprayed', 'sprayed'],
] as const;

export function starting(tile: Tile | null): LayerLine[] {
  const layers = tile?.layers ?? [{ materialId: '', coats: 1, way: 'dipped' as const }];
  return layers.map(({ materialId, coats, way }) => ({
    key: crypto.randomUUID(),
    materialId,
    coats: String(coats),
    way,
  }));
}

/** Whether something is said of a firing whose day is not. */
export const lacksDay = (form: FormData): boolean =>
  !form.get('firedOn') && ['cone', 'kilnId', 'scheduleId', 'run'].some((name) => Boolean(form.get(name)));

/** What is sent; a tile without a day of firing was not fired yet. */
export function bodyOf(form: FormData, layers: readonly LayerLine[]): Schemas['NewTestTile'] {
  const text = (name: string) => String(form.get(name) ?? '').trim();
  const some = (name: string) => text(name) || null;
  const firedOn = some('firedOn');
  return {
    ...{ name: text('name'), bodyId: text('bodyId'), colour: text('colour'), surface: text('surface') },
    ...{ defects: text('defects'), notes: text('notes') },
    layers: layers.map(({ materialId, coats, way }) => ({ materialId, coats: Number(coats), way })),
    firing:
      firedOn === null ? null : { firedOn, cone: some('cone'), kilnId: some('kilnId'), scheduleId: some('scheduleId') },
    run: some('run') as Tile['run'],
  };
}
