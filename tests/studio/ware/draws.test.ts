import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const { db, url, owner, tutor } = await testApp();
const home = await coursesFixture(owner);
const ines = await personFixture(owner);
await lotFixture(owner, home.glaze.id, { quantity: 10_000, costMinor: 1000 });

const pieceOf = async (courseId: string | null) => {
  const paid = { courseId, firingPaidBy: courseId === null ? 'maker' : 'course' };
  const [piece] = await piecesFixture(owner, ines.id, paid);
  if (!piece) throw new Error('no piece was taken in');
  return piece;
};
const draw = (pieceId: string, body: object = {}, key?: string) =>
  tutor.post(`/api/pieces/${pieceId}/draws`, { materialId: home.glaze.id, quantity: 120, ...body }, key);

describe('what went into or onto one piece', () => {
  test('leaves the shelf, and stands in the story of the piece', async () => {
    const piece = await pieceOf(null);
    const key = randomUUID();
    const answers = await Promise.all([1, 2].map(() => draw(piece.id, {}, key)));
    expect(answers.map(({ statusCode }) => statusCode)).toEqual([201, 201]);
    const moveIds: string[] = answers[0]?.json().moveIds;
    expect(await db.stockMove.findUniqueOrThrow({ where: { id: moveIds[0] ?? '' } })).toMatchObject({
      ...{ kind: 'drawn', quantity: -120, costMinor: -12, note: `Piece ${piece.code}` },
    });
    expect((await tutor.get(`/api/pieces/${piece.id}`)).json().draws).toEqual([
      {
        ...{ materialId: home.glaze.id, name: home.glaze.name, unit: 'g', quantity: 120 },
        ...{ at: '2026-03-10T09:00:00.000Z', note: `Piece ${piece.code}` },
      },
    ]);
    expect(await db.courseDraw.count({ where: { stockMoveId: moveIds[0] ?? '' } })).toBe(0);
  });

  test('of a piece that is made on a course was drawn by its course too, once', async () => {
    const course = await home.addCourse();
    const piece = await pieceOf(course.id);
    await draw(piece.id, { note: 'a second coat' });
    const { items } = (await tutor.get(`/api/courses/${course.id}/draws`)).json();
    expect(items).toMatchObject([{ quantity: 120, note: 'a second coat', sessionId: null }]);
    expect((await tutor.get(`/api/pieces/${piece.id}`)).json().draws).toMatchObject([{ note: 'a second coat' }]);
  });

  test('is refused of what there is not', async () => {
    const piece = await pieceOf(null);
    expect((await draw(randomUUID())).statusCode).toBe(404);
    expect((await draw(piece.id, { materialId: randomUUID() })).statusCode).toBe(404);
    expect((await draw(piece.id, { quantity: 0 })).statusCode).toBe(422);
    expect((await draw(piece.id, { quantity: 1, sessionId: randomUUID() })).statusCode).toBe(422);
    expect(await db.pieceDraw.count({ where: { pieceId: piece.id } })).toBe(0);
  });

  test('that its course knows nothing of is refused by the database, and seen by the rules', async () => {
    const course = await home.addCourse();
    const piece = await pieceOf(course.id);
    const { moveIds } = (await tutor.post(`/api/materials/${home.glaze.id}/draws`, { quantity: 5 })).json();
    const [stockMoveId] = moveIds;
    const stray = db.pieceDraw.create({ data: { stockMoveId, pieceId: piece.id } });
    expect(sqlState(await stray.catch((error) => error))).toBe('WB006');
    const found = await faultsAfter(url, `INSERT INTO piece_draw VALUES ('${stockMoveId}', '${piece.id}')`);
    expect(found).toBe(
      `what was drawn for a piece was drawn for its course: stock move ${stockMoveId} is for piece ${piece.code} of course ${course.id}, and for course `,
    );
  });
});
