import type { Prisma } from '../../database/generated/client.js';
import { changed, type Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import type { Guardian, Guardians, NewGuardians } from './contract.js';
import { getPeople, getPersonAt, lockPerson } from './service.js';

const REACHED = { id: true, name: true, phone: true, email: true } as const;

/** What a query of people has to read for recipientOf and guardiansOf. */
export const WITH_GUARDIANS = {
  guardians: { include: { guardian: { select: REACHED } }, orderBy: { ordinal: 'asc' } },
} as const satisfies Prisma.PersonInclude;
type Reached = { id: string; name: string; phone: string | null; email: string | null };
type WithGuardians = { guardians: readonly { guardian: Reached }[] };

export const guardiansOf = ({ guardians }: WithGuardians): Guardian[] =>
  guardians.map(({ guardian: { id: personId, ...reached } }) => ({ personId, ...reached }));

/** Who reads a letter to somebody: of a child the first guardian who has an email address, else they themselves. */
export function recipientOf(person: { name: string; email: string | null } & WithGuardians): {
  name: string;
  email: string | null;
} {
  const reads = person.guardians.find(({ guardian }) => guardian.email !== null)?.guardian ?? person;
  return { name: reads.name, email: reads.email };
}

/** Who reads a letter to this person. */
export async function getRecipient(tx: Transaction, id: string): Promise<ReturnType<typeof recipientOf>> {
  return recipientOf(await tx.person.findUniqueOrThrow({ where: { id }, include: WITH_GUARDIANS }));
}

/** Who answers for a child, and for whom somebody does. */
export async function getGuardians(tx: Transaction, personId: string): Promise<Guardians> {
  const { id } = await getPersonAt(tx, personId);
  const row = await tx.person.findUniqueOrThrow({
    where: { id },
    select: {
      guardians: WITH_GUARDIANS.guardians,
      guardianOf: { select: { child: { select: { id: true, name: true } } }, orderBy: { childId: 'asc' } },
    },
  });
  return {
    guardians: guardiansOf(row),
    guardianOf: row.guardianOf.map(({ child }) => ({ personId: child.id, name: child.name })),
  };
}

/** The same, which nobody else can change until the transaction ends. */
export async function lockGuardians(tx: Transaction, personId: string): Promise<Guardians> {
  await lockPerson(tx, personId);
  return getGuardians(tx, personId);
}

/** Replaces who answers for a child. Lock them first. */
export async function changeGuardians(
  tx: Transaction,
  personId: string,
  { guardianIds }: NewGuardians,
): Promise<Guardians> {
  const [child, ...guardians] = await getPeople(tx, [personId, ...guardianIds]);
  if (!child.isChild && guardians.length > 0)
    throw new Problem(
      'not-a-child',
      `Only a child has a guardian. If ${child.name} is one, say so under “Change this person” first.`,
      see('people', `/api/people/${personId}`),
    );
  for (const { id, name, isChild } of guardians)
    if (isChild || id === personId)
      throw new Problem('not-a-child', `${name} is a child. Choose a grown-up who answers for ${child.name}.`, {
        personId: id,
      });
  await tx.guardian.deleteMany({ where: { childId: personId } });
  await tx.guardian.createMany({
    data: guardianIds.map((guardianId, i) => ({ childId: personId, guardianId, ordinal: i + 1 })),
  });
  changed(tx, `person ${personId}`);
  return getGuardians(tx, personId);
}
