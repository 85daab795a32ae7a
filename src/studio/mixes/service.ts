import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import { type RecipeFault, validateRecipe } from '../../trade/materials/mix-validation.js';
import type { Material } from '../materials/contract.js';
import { getMaterial, toMaterial } from '../materials/service.js';
import type { Mix, NewMix, NewRecipe } from './contract.js';
import { nestingFaults } from './nesting-check.js';
import { listLatestRecipes, lockRecipes } from './queries.js';

/** Says how a material is mixed. */
export async function addMix(tx: Transaction, now: Date, { productId, ...recipe }: NewMix): Promise<Mix> {
  await lockRecipes(tx);
  const { name } = await getMaterial(tx, productId);
  if ((await tx.mix.count({ where: { productId } })) > 0)
    throw new Problem('already-there', `${name} has a recipe already. Look it up, and write a new version.`);
  const mixId = newId();
  await tx.mix.create({ data: { id: mixId, productId } });
  return writeVersion(tx, now, { mixId, productId, number: 1 }, recipe);
}

/** The mix as its address shows it; nobody else writes a recipe until the transaction ends. */
export async function lockMix(tx: Transaction, id: string): Promise<Mix> {
  await lockRecipes(tx);
  return getMix(tx, id);
}

/** Writes a new version. Batches that were made keep theirs. */
export async function changeRecipe(tx: Transaction, now: Date, id: string, recipe: NewRecipe): Promise<Mix> {
  const { product, version } = await getMix(tx, id);
  return writeVersion(tx, now, { mixId: id, productId: product.id, number: version + 1 }, recipe);
}

async function writeVersion(
  tx: Transaction,
  now: Date,
  { mixId, productId, number }: { mixId: string; productId: string; number: number },
  recipe: NewRecipe,
): Promise<Mix> {
  await refuseUnmixable(tx, mixId, productId, recipe);
  const { parts, note, ...said } = recipe;
  const id = newId();
  await tx.mixVersion.create({ data: { id, mixId, number, ...said, note: note ?? '', createdAt: now } });
  await tx.mixPart.createMany({ data: parts.map((part, i) => ({ versionId: id, ...part, ordinal: i + 1 })) });
  return getMix(tx, mixId);
}

async function refuseUnmixable(tx: Transaction, mixId: string, productId: string, recipe: NewRecipe): Promise<void> {
  const product = await getMaterial(tx, productId);
  const parts: (Material & { share: string })[] = [];
  for (const { materialId, share } of recipe.parts) parts.push({ ...(await getMaterial(tx, materialId)), share });
  const own = { mixId, productId, name: product.name, partIds: recipe.parts.map(({ materialId }) => materialId) };
  const others = (await listLatestRecipes(tx)).filter((other) => other.mixId !== mixId);
  const faults = [...validateRecipe({ ...recipe, product, parts }), ...nestingFaults([...others, own], own)];
  const [first] = faults;
  if (!first) return;
  const nameOf = ({ at }: RecipeFault) => {
    const [field, index] = at.split('/');
    if (index !== undefined) return parts[Number(index)]?.name;
    return field === 'parts'
      ? 'The list of materials'
      : field === 'litreGrams'
        ? 'The weight of a litre'
        : product.name;
  };
  throw new Problem('invalid-request', `This recipe can’t be used. ${nameOf(first)} ${first.detail}.`, {
    errors: faults.map(({ at, detail }) => ({ pointer: `#/${at}`, detail })),
  });
}

const WHOLE = {
  product: true,
  versions: {
    orderBy: { number: 'desc' },
    take: 1,
    include: { parts: { orderBy: { ordinal: 'asc' }, include: { material: true } } },
  },
} as const satisfies Prisma.MixInclude;
type Row = Prisma.MixGetPayload<{ include: typeof WHOLE }>;

/** A mix by its latest version. */
export async function getMix(tx: Transaction, id: string): Promise<Mix> {
  const row = await tx.mix.findUnique({ where: { id }, include: WHOLE });
  if (!row)
    throw new Problem('not-found', 'No mix has this id. Look for it on the page Shelf.', see('shelf', '/api/mixes'));
  return show(row);
}

/** The latest recipes by which these materials are made; none for what is not mixed here. */
export async function listMixesMaking(tx: Transaction, productIds: readonly string[]): Promise<Mix[]> {
  const rows = await tx.mix.findMany({ where: { productId: { in: [...productIds] } }, include: WHOLE });
  return rows.map(show);
}

/** All that is mixed here, by its latest recipes, and the materials that go into it, by id; what somebody sells in packs is bought. */
export async function listMixedHere(tx: Transaction): Promise<{ mixes: Mix[]; parts: Map<string, Material> }> {
  const rows = await tx.mix.findMany({ where: { product: { packs: { none: {} } } }, include: WHOLE });
  const parts = rows.flatMap(({ versions }) => versions.flatMap((version) => version.parts));
  return { mixes: rows.map(show), parts: new Map(parts.map(({ material }) => [material.id, toMaterial(material)])) };
}

export async function listMixes(tx: Transaction, query: PageQuery) {
  return page(await tx.mix.findMany({ include: WHOLE, ...pageArgs(query) }), query, show);
}

function show({ id, product, versions }: Row): Mix {
  const [latest] = versions;
  if (!latest) throw new Error(`Mix ${id} has no version.`);
  const { number, weights, inPercent, litreGrams, solidsDensity, note, createdAt, parts } = latest;
  return {
    id,
    product: { id: product.id, ...stuffOf(product) },
    version: number,
    since: createdAt.toISOString(),
    weights,
    inPercent,
    litreGrams,
    solidsDensity: solidsDensity === null ? null : fromDecimal(solidsDensity),
    parts: parts.map(({ materialId, material, share }) => ({
      materialId,
      ...stuffOf(material),
      share: fromDecimal(share),
    })),
    note: note === '' ? null : note,
  };
}

function stuffOf({ name, kind, unit, waterPercent, dryGramsPerMl }: Row['product']) {
  return {
    ...{ name, kind, unit },
    waterPercent: waterPercent === null ? null : fromDecimal(waterPercent),
    dryGramsPerMl: dryGramsPerMl === null ? null : fromDecimal(dryGramsPerMl),
  };
}
