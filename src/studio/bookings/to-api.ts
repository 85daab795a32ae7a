import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { vatInside } from '../../trade/money/tax.js';
import { CHARGE_INCLUDE, type ChargePart, showInstalment, taxPartsOf } from '../accounts/charges/charge-state.js';
import { type ChargeState, getChargeStates } from '../accounts/queries.js';
import type { Booking } from './contract.js';

export const WITH_PEOPLE = {
  payer: true,
  charge: { include: { instalments: { orderBy: { dueOn: 'asc' } }, ...CHARGE_INCLUDE } },
  places: {
    include: {
      person: { include: { guardians: { take: 1 } } },
      concession: true,
      membershipVisits: { select: { includedMinor: true } },
    },
    orderBy: { id: 'asc' },
  },
  cancelledPlaces: { include: { person: true }, orderBy: [{ cancelledAt: 'asc' }, { id: 'asc' }] },
  givenUps: { include: { refills: { where: { refund: null } } } },
} as const satisfies Prisma.BookingInclude;

type Row = Prisma.BookingGetPayload<{ include: typeof WITH_PEOPLE }>;

/** Bookings as they stand: what is stored, and what their charges say of them. */
export async function toBookings(tx: Transaction, rows: readonly Row[]): Promise<Booking[]> {
  const states = await getChargeStates(
    tx,
    rows.map(({ chargeId }) => chargeId),
  );
  return rows.flatMap(({ charge, givenUps, places: stored, ...row }) => {
    const state = states.get(row.chargeId); // never missing: a foreign key holds it
    if (!state) return [];
    const instalments = charge.instalments.map(showInstalment);
    const refills = givenUps.flatMap((given) => given.refills);
    const refundDueMinor = refills.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
    const places = stored.map(({ person, ...place }) => ({
      ...place,
      person: { name: person.name, lacksGuardian: person.isChild && person.guardians.length === 0 },
    }));
    return [toBooking({ ...row, places, instalments, parts: taxPartsOf(charge), refundDueMinor }, state)];
  });
}

type Comes = { name: string; lacksGuardian: boolean };

/** A booking as it is stored, with what its charge asks for. */
type Stored = Omit<Row, 'payer' | 'places' | 'charge' | 'givenUps' | 'cancelledPlaces'> & {
  payer: { name: string };
  places: readonly {
    personId: string;
    person: Comes;
    concession: { label: string } | null;
    membershipVisits: readonly { includedMinor: number }[];
  }[];
  cancelledPlaces: readonly Pick<
    Row['cancelledPlaces'][number],
    'personId' | 'person' | 'cancelledAt' | 'because' | 'refundMinor' | 'keptMinor'
  >[];
  instalments: Booking['instalments'];
  parts: readonly ChargePart[];
  refundDueMinor: number;
};

/** A booking as its address shows it, by what of its charge is paid. */
export function toBooking(row: Stored, charge: Pick<ChargeState, 'grossMinor' | 'paidMinor' | 'owedMinor'>): Booking {
  const { id, courseId, payerId, payer, places, heldUntil, bookedAt, cancelledAt, cancelledBecause, chargeId } = row;
  const state = cancelledAt ? 'cancelled' : charge.paidMinor >= row.depositMinor ? 'confirmed' : 'provisional';
  return {
    ...{ id, courseId, payerId, payerName: payer.name },
    attendees: places.map(({ personId, person, concession }) => ({
      ...{ personId, name: person.name, concession: concession?.label ?? null },
      lacksGuardian: person.lacksGuardian,
    })),
    unnamed: row.unnamed,
    state,
    heldUntil: state === 'provisional' ? heldUntil.toISOString() : null,
    bookedAt: bookedAt.toISOString(),
    cancelledAt: cancelledAt?.toISOString() ?? null,
    cancelledBecause,
    movedToId: row.movedToId,
    chargeId,
    priceMinor: charge.grossMinor,
    includedMinor: places
      .flatMap(({ membershipVisits }) => membershipVisits)
      .reduce((sum, visit) => sum + visit.includedMinor, 0),
    vat: row.parts.flatMap((part) => (part.grossMinor === 0 ? [] : [vatOf(part)])),
    depositMinor: row.depositMinor,
    instalments: row.instalments,
    paidMinor: charge.paidMinor,
    owedMinor: charge.owedMinor,
    cancelledPlaces: row.cancelledPlaces.map(({ personId, person, ...place }) => ({
      ...{ personId, name: person.name, cancelledAt: place.cancelledAt.toISOString() },
      ...{ because: place.because, refundMinor: place.refundMinor, keptMinor: place.keptMinor },
    })),
    refundDueMinor: row.refundDueMinor,
  };
}

const vatOf = ({ label, taxName, tax, grossMinor }: ChargePart): Booking['vat'][number] => ({
  ...{ label, taxName, grossMinor },
  vatPercent: tax.kind === 'standard' ? tax.percent : null,
  vatMinor: vatInside(grossMinor, tax),
});
