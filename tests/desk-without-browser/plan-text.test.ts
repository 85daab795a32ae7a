import { describe, expect, test } from 'vitest';
import { formatterFor } from '../../src/desk/format/formatter.js';
import { moved } from '../../src/desk/forms/repeated-fields.js';
import { follows, litresOf } from '../../src/desk/pages/courses/plans/derived-requirements.js';
import { changedBetween, placeOf } from '../../src/desk/pages/courses/plans/field-labels.js';
import { draftOf, emptyDraft, placesIn, sessionLine } from '../../src/desk/pages/courses/plans/form-values.js';
import { oneLine, placesInWords } from '../../src/desk/pages/courses/plans/labels.js';
import type { Plan, Workshop } from '../../src/desk/pages/courses/plans/queries.js';
import { bodyOf } from '../../src/desk/pages/courses/plans/request-body.js';

const formatter = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London' });
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

const material = (id: string, name: string, kind: string, unit: string, dryGramsPerMl: string | null = null) => ({
  ...{ id, name, kind, unit, dryGramsPerMl },
});
const workshop = {
  materials: [
    material('clay', 'Grey body', 'clay', 'g'),
    material('moss', 'Moss', 'glaze', 'ml', '0.9'),
    material('box', 'Box', 'packaging', 'piece'),
    material('slip', 'White slip', 'slip', 'ml'),
  ],
  kilns: [{ id: 'kiln', name: 'Front kiln', chamberMm3: 150_000_000, fillPercent: '60', coolingHours: 24 }],
  fills: [
    {
      kilnId: 'kiln',
      bisque: { percent: '40', isLearnt: true },
      glaze: { percent: '60', isLearnt: false },
      lustre: { percent: '60', isLearnt: false },
    },
  ],
  schedules: [
    {
      ...{ id: 'bisque', name: 'Bisque', kind: 'bisque' },
      segments: [{ ratePerHourC: 98, targetC: 1000, holdMinutes: 120 }], // 10 h up from 20 °C, and 2 h held
    },
    {
      id: 'stoneware',
      name: 'Stoneware',
      kind: 'glaze',
      segments: [{ ratePerHourC: 100, targetC: 1220, holdMinutes: 0 }],
    },
  ],
  tiles: [],
  taxRates: [],
  rooms: [],
  reach: { making: '100', bisque: '50', glaze: '25', lustre: '0' },
  studio: {
    ...{ currency: 'GBP', offcutsPercent: '10', remakesPercent: '20', reclaimedPercent: '5', glazeWastePercent: '10' },
  },
} as unknown as Workshop;

const session = (purpose: Plan['sessions'][number]['purpose'], minutes = 150) => ({
  ...{ purpose, minutes, prepareMinutes: 20, clearMinutes: 40 },
});
const mug: Plan['pieces'][number] = {
  ...{ form: 'mug', size: { widthMm: 120, depthMm: 88, heightMm: 95 }, wetMassGrams: 450, perStudent: 2 },
  ...{ clayId: 'clay', glaze: { materialId: 'moss', gramsPerDm2: '4.5' }, tileId: null, comesAs: null },
};
const plan: Plan = {
  ...{ id: 'p', retiredOn: null, name: 'Two mugs', kind: 'course', places: 8, minimum: 4, groupOf: null, payments: 2 },
  ...{ balancePayments: 1, balanceEveryDays: 28, otherMinutes: 240, minutesPerStudent: 10, dryingDays: 7 },
  ...{ advertisingMinor: 2050, sunkIfCancelledMinor: 0, secondTutor: { feeMinor: 9000, above: 6 } },
  ...{ firingIncludedLitres: '2.5', wholeLoads: true, broughtLitres: null, restLabel: 'clay and firing' },
  litresPerStudent: { bisque: '2.454612', glaze: '2.813142', lustre: '2.392488' },
  sessions: [session('making'), session('glazing', 120)],
  pieces: [mug],
  materials: [
    { materialId: 'box', perStudent: 2 },
    { materialId: 'slip', perStudent: 200 },
  ],
  firings: [
    { kilnId: 'kiln', scheduleId: 'bisque' },
    { kilnId: 'kiln', scheduleId: 'stoneware' },
  ],
  soldAt: [{ label: 'Student', sharePercent: '20', pricePercent: '90', lessMinor: 150, payments: null }],
  parts: [
    { label: 'Kit', taxRateId: 't', sharePercent: null, amountMinor: 1500 },
    { label: 'Book', taxRateId: 't', sharePercent: '10', amountMinor: null },
  ],
};

describe('what is typed', () => {
  test('reads back as the plan that the form was opened with', () => {
    const { id: _, litresPerStudent: __, retiredOn: ___, ...rest } = plan;
    expect(bodyOf(draftOf(plan, workshop), workshop)).toEqual({
      body: { ...rest, pieces: [{ ...mug, size: 'medium' }] },
      faults: [],
    });
  });

  test('may have a comma before its decimals, and a quantity its unit', () => {
    const draft = draftOf(plan, workshop);
    const [piece] = draft.pieces;
    const [, slip] = draft.materials;
    expect(slip?.perStudent).toBe('200 ml');
    const { body, faults } = bodyOf(
      {
        ...draft,
        advertising: '20,5',
        pieces: [{ ...(piece as NonNullable<typeof piece>), wetMassGrams: '0,5 kg', gramsPerDm2: '4,25' }],
        materials: [{ ...(slip as NonNullable<typeof slip>), perStudent: '0.25 l' }],
      },
      workshop,
    );
    expect(faults).toEqual([]);
    expect(body).toMatchObject({
      advertisingMinor: 2050,
      pieces: [{ wetMassGrams: 500, glaze: { gramsPerDm2: '4.25' } }],
      materials: [{ perStudent: 250 }],
    });
  });

  test('is named by its field where it can’t be read', () => {
    const draft = draftOf(plan, workshop);
    const { faults } = bodyOf(
      {
        ...{
          ...draft,
          name: ' ',
          places: 'many',
          advertising: '1.234',
          secondFee: '',
          firingIncludedLitres: '1,234,5',
        },
        sessions: draft.sessions.map((line, i) => (i === 1 ? { ...line, minutes: '2.5' } : line)),
        pieces: draft.pieces.map((line) => ({
          ...line,
          size: 'measured' as const,
          widthMm: '0',
          depthMm: '',
          clayId: '',
        })),
        materials: draft.materials.map((line) => ({ ...line, perStudent: '2 kg' })),
      },
      workshop,
    );
    expect(faults.map(({ pointer }) => pointer)).toEqual([
      ...['#/name', '#/places', '#/advertisingMinor', '#/secondTutor/feeMinor', '#/firingIncludedLitres'],
      ...['#/sessions/1/minutes', '#/pieces/0/size/widthMm', '#/pieces/0/size/depthMm', '#/pieces/0/clayId'],
      ...['#/materials/0/perStudent', '#/materials/1/perStudent'],
    ]);
    expect(faults.find(({ pointer }) => pointer === '#/advertisingMinor')?.detail).toContain('Write 1234 or 1.23');
  });

  test('of another kind leaves out what that kind has not', () => {
    const draft = draftOf(plan, workshop);
    expect(bodyOf({ ...draft, kind: 'openStudio' }, workshop).body).toMatchObject({ minimum: 0, groupOf: null });
    const { body } = bodyOf({ ...draft, kind: 'private', groupOf: '6', hasSecond: false }, workshop);
    expect(body).toMatchObject({ groupOf: 6, soldAt: [], secondTutor: null });
  });

  test('begins with something that can be kept once it has a name', () => {
    const { body, faults } = bodyOf({ ...emptyDraft(workshop), name: 'First' }, workshop);
    expect(faults).toEqual([]);
    expect(body.firings).toEqual(plan.firings);
  });

  test('begins with the places of the only room, and never needs more students than those', () => {
    const room = { id: 'room', name: 'Studio', benches: 6 };
    expect(emptyDraft({ ...workshop, rooms: [room] })).toMatchObject({ roomId: 'room', places: '6', minimum: '4' });
    const small = emptyDraft({ ...workshop, rooms: [{ ...room, benches: 3 }] });
    expect(small).toMatchObject({ places: '3', minimum: '3' });
    const two = emptyDraft({ ...workshop, rooms: [room, { ...room, id: 'other' }] });
    expect(two).toMatchObject({ roomId: '', places: '8' });
    expect(placesIn({ ...room, benches: 500 }, '4').places).toBe('200'); // as many as the API takes
  });

  test.each([
    ['course', 9000],
    ['session', 27_000], // three sessions
    ['hour', 67_500], // three of 150 minutes: 90 × 7.5
    [undefined, 9000], // kept in a browser before it could be said
  ] as const)('pays a second tutor for %s', (secondPer, feeMinor) => {
    const sessions = ['making', 'finishing', 'glazing'].map((purpose) => sessionLine(purpose as 'making'));
    const draft = { ...draftOf(plan, workshop), ...{ sessions, hasSecond: true, secondFee: '90', secondAbove: '6' } };
    const { body, faults } = bodyOf({ ...draft, ...(secondPer && { secondPer }) }, workshop);
    expect(faults).toEqual([]);
    expect(body.secondTutor).toEqual({ feeMinor, above: 6 });
  });

  test('moves up and down, and no further than there are lines', () => {
    expect(moved(['a', 'b', 'c'], 1, -1)).toEqual(['b', 'a', 'c']);
    expect(moved(['a', 'b', 'c'], 1, 1)).toEqual(['a', 'c', 'b']);
    expect(moved(['a', 'b', 'c'], 0, -1)).toEqual(['a', 'b', 'c']);
    expect(moved(['a', 'b', 'c'], 2, 1)).toEqual(['a', 'b', 'c']);
  });
});

describe('what is wrong', () => {
  test('is told by where it stands on the form, and in words', () => {
    expect(['#/name', '#/sessions/1/minutes', '#/pieces/0/glaze/gramsPerDm2', '#/pieces/2/size'].map(placeOf)).toEqual([
      ...['The name', 'Session 2, minutes', 'Piece 1, coating', 'Piece 3, size'],
    ]);
    expect(['#/secondTutor/feeMinor', '#/soldAt', '#/materials/0', '#'].map(placeOf)).toEqual([
      ...['A second tutor, fee', 'Concessions', 'Material 1', 'The plan'],
    ]);
  });

  test('since somebody else wrote meanwhile is told by what they changed', () => {
    const now = {
      ...plan,
      places: 9,
      advertisingMinor: 1,
      sessions: [],
      litresPerStudent: { bisque: '1', glaze: '1', lustre: '1' },
    };
    expect(changedBetween(plan, now)).toBe('places (now 9), advertising and sessions');
    expect(changedBetween(plan, plan)).toBe('');
  });
});

describe('what follows', () => {
  const told = (changes: Partial<ReturnType<typeof draftOf>> = {}) =>
    follows(bodyOf({ ...draftOf(plan, workshop), ...changes }, workshop), workshop, formatter).map(plain);

  test('is told of clay, glaze, kiln room, time and what must be between', () => {
    expect(told()).toEqual([
      // 2 * 450 g * 1.1 * 1.2; a mug's faces: pi * 88 * 95 * 2.15 + pi/4 * 88² = 62,548 mm², * 2 * 4.5 * 1.1 / 0.9, * 1.05 as a quarter of the remakes is glazed
      'Each student takes 1.2 kg of Grey body and 72 ml of Moss; clay with 10% of offcuts and 20% of remakes, of which 5% comes back later as reclaim.',
      // 8 * 2.454612 l by 0.4 * 150 l, and 8 * 2.813142 l by 0.6 * 150 l
      'With all 8 places taken it fires 0.3 of a load of Front kiln for Bisque (2.5 l each, 40% full as learnt) and 0.3 of a load of Front kiln for Stoneware (2.8 l each, 60% full assumed).',
      'It takes you 10 h 30 min: 4 h 30 min in sessions, 2 h before and after them, 4 h otherwise, and 10 min more for each student.',
      // 7 days of drying, 12 h of bisque, 24 h of cooling
      'Session 2 (glazing) begins 8.5 days after session 1 or later: 7 days of drying, 12 hours of "Bisque" and 24 hours of cooling.',
    ]);
  });

  test('is reckoned as the server does', () => {
    for (const kind of ['bisque', 'glaze', 'lustre'] as const)
      expect(litresOf(kind, [{ ...mug, size: 'medium' }], null, workshop).toFixed()).toBe(plan.litresPerStudent[kind]);
  });

  test('says how large to make a piece of a clay whose shrinkage is known', () => {
    const shrinks = { dryingShrinkagePercent: '6.25', firingShrinkagePercent: '6.66' };
    const materials = workshop.materials.map((one) => (one.id === 'clay' ? { ...one, ...shrinks } : one));
    const known = { ...workshop, studio: { ...workshop.studio, locale: 'en-GB' }, materials };
    const sentences = follows(bodyOf(draftOf(plan, known), known), known, formatter).map(plain);
    // 12.49375 % in all: 120 / 0.8750625, 88 / 0.8750625, 95 / 0.8750625
    expect(sentences).toContain('In wet clay the mug is 137 × 101 × 109 mm: Grey body shrinks 12.5%.');
  });

  test('counts ware that comes made in the firings that it still goes through, and what students bring in all', () => {
    const decorated = { ...mug, comesAs: 'fired' as const, clayId: null, wetMassGrams: null };
    const [bisque, lustre] = (['bisque', 'lustre'] as const).map((kind) =>
      litresOf(kind, [decorated], '1.5', workshop),
    );
    expect([bisque?.toFixed(), lustre?.toFixed()]).toEqual(['1.5', '3.892488']);
    const [piece] = draftOf(plan, workshop).pieces;
    const line = { ...(piece as NonNullable<typeof piece>), comesAs: 'bisque' as const };
    const { body, faults } = bodyOf({ ...draftOf(plan, workshop), pieces: [line], broughtLitres: '1,5' }, workshop);
    expect(faults).toEqual([]);
    expect(body).toMatchObject({
      broughtLitres: '1.5',
      pieces: [{ comesAs: 'bisque', clayId: null, wetMassGrams: null }],
    });
  });

  test('leaves out what can’t be reckoned yet', () => {
    const { pieces, sessions } = draftOf(plan, workshop);
    const noMass = told({ pieces: pieces.map((line) => ({ ...line, wetMassGrams: '' })) });
    expect(noMass.map((line) => line.split(' ')[0])).toEqual(['It', 'Session']);
    const noMinutes = told({ sessions: sessions.map((line) => ({ ...line, minutes: '' })) });
    expect(noMinutes.map((line) => line.split(' ')[0])).toEqual(['Each', 'With', 'Session']);
    expect(told({ dryingDays: 'some' })).toHaveLength(3);
    // a kiln that is fired for nothing is told of before the plan is saved
    expect(told({ pieces: [] })[0]).toBe(
      'With all 8 places taken it fires nothing for Bisque and nothing for Stoneware.',
    );
    expect(told({ pieces: [] })).toHaveLength(3);
    expect(told({ firings: [] })).toHaveLength(3);
  });
});

describe('a plan in words', () => {
  test('says in a line what it is', () => {
    expect(plain(oneLine(plan))).toBe('Two sessions, 4 h 30 min; 4 to 8 places; each makes two mugs.');
    const made = { ...plan, pieces: plan.pieces.map((piece) => ({ ...piece, comesAs: 'fired' as const })) };
    expect(plain(oneLine(made))).toContain('; each decorates two mugs.');
    const visit = { ...plan, kind: 'openStudio' as const, minimum: 0, sessions: [session('making', 180)], pieces: [] };
    expect(plain(oneLine(visit))).toBe('A visit of 3 h; 8 benches by the visit; nobody keeps a piece.');
    const group = { ...plan, kind: 'private' as const, groupOf: 6 };
    expect(placesInWords(group)).toBe('one group of 6, up to 8');
    expect(placesInWords({ ...group, groupOf: 8 })).toBe('one group of 8');
    expect(placesInWords({ ...plan, minimum: 8 })).toBe('eight places');
  });
});
