import type { Transaction } from '../../database/transaction.js';
import { NewCourse } from '../../studio/courses/contract.js';
import { NewPlan } from '../../studio/courses/plan-contract.js';
import { addCourse, addPlan } from '../../studio/courses/service.js';
import { NewKiln, NewSchedule, NewTariff } from '../../studio/kilns/contract.js';
import { addKiln, addSchedule, addTariff } from '../../studio/kilns/service.js';
import { NewMaterial } from '../../studio/materials/contract.js';
import { addMaterial } from '../../studio/materials/service.js';
import { NewSupplier } from '../../studio/materials/supplier-contract.js';
import { addSupplier, changeSupply } from '../../studio/materials/suppliers.js';
import { NewMembershipKind } from '../../studio/memberships/kind-contract.js';
import { addKind } from '../../studio/memberships/kinds.js';
import { NewPerson } from '../../studio/people/contract.js';
import { addPerson } from '../../studio/people/service.js';
import { changeSellingPrice } from '../../studio/sales/prices.js';
import { addClosure } from '../../studio/settings/closures.js';
import { NewRefundPolicy, NewRoom, NewTaxRate } from '../../studio/settings/contract.js';
import { addRefundPolicy, addRoom, addTaxRate, saveStudio } from '../../studio/settings/service.js';
import { hashPassword } from '../../studio/staff/secrets.js';
import { addStaffMember } from '../../studio/staff/service.js';
import { NewBoard } from '../../studio/ware/contract.js';
import { addBoard } from '../../studio/ware/service.js';
import { instantAt } from '../../trade/calendar/calendar.js';
import type { IdRegistry } from './id-registry.js';
import { mixAndTest } from './mixes.js';
import type { Seeds, Shift } from './seeds.js';
import { teachingDays } from './teaching-days.js';

type Load = { tx: Transaction; now: Date; seeds: Seeds; shift: Shift; names: IdRegistry };

/** All that is there before the year begins, each by its service, so that every rule applies: one after the other, a transaction each. */
export const REFERENCE_DATA = [
  ...[settle, invite, stockShelf, findSuppliers, buildKilns],
  ...[mixAndTest, makePlans, planCourses, offerMemberships],
] as const;

async function settle({ tx, now, seeds, shift, names }: Load): Promise<void> {
  for (const rate of seeds.taxRates) names.keep('taxRate', rate.name, await addTaxRate(tx, NewTaxRate.parse(rate)));
  await saveStudio(tx, { ...seeds.studio, firingTaxRateId: names.id('taxRate', seeds.firingTaxRate) });
  for (const room of seeds.rooms) names.keep('room', room.name, await addRoom(tx, NewRoom.parse(room)));
  for (const { name, from, to } of seeds.closures)
    await addClosure(tx, { name, from: shift.day(from), to: shift.day(to) });
  for (const policy of seeds.refundPolicies)
    names.keep('refundPolicy', policy.name, await addRefundPolicy(tx, NewRefundPolicy.parse(policy)));
  for (const board of seeds.boards) names.keep('board', board.name, await addBoard(tx, NewBoard.parse(board)));
  for (const { password, ...member } of seeds.staff) {
    const passwordHash = await hashPassword(password);
    names.keep('staff', member.name, await addStaffMember(tx, now, { ...member, passwordHash }));
  }
}

async function invite({ tx, now, seeds, shift, names }: Load): Promise<void> {
  for (const { name, email, phone, address, memberSince } of seeds.people) {
    const addressLines = address === '' ? [] : address.split('|');
    const person = NewPerson.parse({
      ...{ name, email: email || null, phone: phone || null, addressLines },
      memberSince: memberSince === '' ? null : shift.day(memberSince),
    });
    names.keep('person', name, await addPerson(tx, now, person));
  }
}

async function stockShelf({ tx, now, seeds, shift, names }: Load): Promise<void> {
  for (const { manufacturerStatement, hazardNote, ...material } of seeds.shelf.materials) {
    const moved = {
      manufacturerStatement: stated(manufacturerStatement, shift),
      hazardNote: stated(hazardNote, shift),
    };
    names.keep('material', material.name, await addMaterial(tx, now, NewMaterial.parse({ ...material, ...moved })));
  }
}

/** A maker's words of a day, as of that day of the demo. */
function stated(said: unknown, shift: Shift) {
  const { statedOn, ...words } = (said ?? {}) as { statedOn?: string };
  return statedOn === undefined ? null : { ...words, statedOn: shift.day(statedOn) };
}

async function findSuppliers({ tx, seeds, names }: Load): Promise<void> {
  for (const supplier of seeds.shelf.suppliers)
    names.keep('supplier', supplier.name, await addSupplier(tx, NewSupplier.parse(supplier)));
  for (const { material, supplier, packs } of seeds.shelf.supplies)
    await changeSupply(tx, names.id('material', material), { supplierId: names.id('supplier', supplier), packs });
  for (const { material, priceMinor, taxRate } of seeds.shelf.sold)
    await changeSellingPrice(tx, names.id('material', material), {
      priceMinor,
      taxRateId: names.id('taxRate', taxRate),
    });
}

async function offerMemberships({ tx, now, seeds, names }: Load): Promise<void> {
  for (const { taxRate, clay, ...terms } of seeds.membershipKinds) {
    const clayId = clay && names.id('material', clay);
    const wanted = NewMembershipKind.parse({ ...terms, clayId, taxRateId: names.id('taxRate', taxRate) });
    names.keep('membershipKind', wanted.name, await addKind(tx, now, wanted));
  }
}

async function buildKilns({ tx, seeds, shift, names }: Load): Promise<void> {
  for (const kiln of seeds.firing.kilns) names.keep('kiln', kiln.name, await addKiln(tx, NewKiln.parse(kiln)));
  for (const schedule of seeds.firing.schedules)
    names.keep('schedule', schedule.name, await addSchedule(tx, NewSchedule.parse(schedule)));
  for (const tariff of seeds.firing.tariffs)
    await addTariff(tx, NewTariff.parse({ ...tariff, validFrom: shift.day(tariff.validFrom) }));
}

async function makePlans({ tx, seeds, names }: Load): Promise<void> {
  for (const { pieces, materials, firings, parts, ...plan } of seeds.plans) {
    const wanted = NewPlan.parse({
      ...plan,
      pieces: pieces.map(({ clay, glaze, ...piece }) => ({
        ...piece,
        clayId: clay && names.id('material', clay),
        glaze: glaze && { materialId: names.id('material', glaze.material), gramsPerDm2: glaze.gramsPerDm2 },
      })),
      materials: materials.map(({ material, perStudent }) => ({
        materialId: names.id('material', material),
        perStudent,
      })),
      firings: firings.map(({ kiln, schedule }) => ({
        kilnId: names.id('kiln', kiln),
        scheduleId: names.id('schedule', schedule),
      })),
      parts: parts.map(({ taxRate, ...part }) => ({ ...part, taxRateId: names.id('taxRate', taxRate) })),
    });
    names.keep('plan', plan.name, await addPlan(tx, wanted));
  }
}

async function planCourses({ tx, seeds, shift, names }: Load): Promise<void> {
  const days = teachingDays(seeds.sessions, shift);
  const taught = seeds.sessions.map((session, i) => ({ ...session, day: days[i] as string }));
  for (const { called, plan, completed: _, perHeadAboveMinor, ...course } of seeds.courses) {
    const sessions = taught.filter((session) => session.course === called);
    const wanted = NewCourse.parse({
      ...course,
      ...(perHeadAboveMinor !== '' && { perHeadAboveMinor: Number(perHeadAboveMinor) }),
      planId: names.id('plan', plan),
      taxRateId: names.id('taxRate', 'Standard'),
      refundPolicyId: names.id('refundPolicy', 'Courses'),
      sessions: sessions.map(({ day, from, to, room, tutors }) => ({
        startsAt: instantAt(day, from, seeds.studio.timeZone).toISOString(),
        endsAt: instantAt(day, to, seeds.studio.timeZone).toISOString(),
        roomId: names.id('room', room),
        tutorIds: tutors.split('|').map((tutor) => names.id('staff', tutor)),
      })),
    });
    names.keep('course', called, await addCourse(tx, wanted));
  }
}
