import { expect, test } from 'vitest';
import { letterFor } from '../../../src/mail/letters.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { made, personFixture, STUDIO } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
const home = await coursesFixture(owner);

test('the letter of a booking and the register of its course say what the materials of its course warn of, by their data sheets', async () => {
  const gold = await materialFixture(owner, {
    ...{ kind: 'lustre', unit: 'g', packQuantity: 10, waterPercent: null, firingRange: null },
    ...{ dryingShrinkagePercent: null, firingShrinkagePercent: null },
    hazardNote: { text: 'Holds solvents.', statedOn: '2025-01-20' },
  });
  const textFor = async (materials: object[]) => {
    const plan = await made(owner, '/api/course-plans', { ...planBody(home), materials });
    const course = await home.addCourse({ planId: plan.id });
    const { hazards } = (await tutor.get(`/api/courses/${course.id}/register`)).json();
    expect(hazards).toEqual(
      materials.length === 0
        ? []
        : [expect.stringContaining('Flammable'), 'The suppliers’ safety data sheets take precedence.'],
    );
    const { id } = await personFixture(owner);
    await made(owner, `/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] });
    const notice = await db.notice.findFirstOrThrow({ where: { personId: id, occasion: 'booking' } });
    return letterFor('booking', notice.data, { studio: STUDIO, personName: 'Ada Finch' }).text.replace(/\s+/g, ' ');
  };
  const text = await textFor([{ materialId: gold.id, perStudent: 1 }]);
  expect(text).toContain('Some of what we use on this course needs care');
  expect(text).toContain(`${gold.name} – Flammable, and gives off solvent vapour`);
  expect(text).toContain('Holds solvents (data sheet dated 20 January 2025).');
  expect(text).toContain('The suppliers’ safety data sheets take precedence.');
  expect(await textFor([])).not.toContain('needs care');
});
