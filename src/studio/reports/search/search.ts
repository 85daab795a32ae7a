import { inOrder } from '../../../database/find-page.js';
import type { Transaction } from '../../../database/transaction.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import { suggestCodes } from '../../../trade/text/ware-code.js';
import { listPapers } from '../../accounts/list/lists.js';
import { PaperQuery } from '../../accounts/list-contract.js';
import { coursesByIds } from '../../courses/list.js';
import { getStudio } from '../../settings/service.js';
import { listedPieces } from '../../ware/pieces.js';
import { type Found, SHOWN_MAX } from './contract.js';
import { coursesFound, peopleFound, piecesFound } from './queries.js';

type Sees = { people: boolean; pieces: boolean; courses: boolean; papers: boolean };

/** What a few words or a code may mean: people, pieces, courses and papers, as far as somebody may see them. */
export async function search(tx: Transaction, now: Date, q: string, sees: Sees): Promise<Found> {
  const [people, pieces, courses, papers] = [
    sees.people ? await findPeopleShown(tx, q) : null,
    sees.pieces ? await findPiecesShown(tx, q) : null,
    sees.courses ? await findCoursesShown(tx, now, q) : null,
    sees.papers ? await findPapersShown(tx, q) : null,
  ];
  return { people, pieces, courses, papers, mistypedCode: sees.pieces ? await mistyped(tx, q) : null };
}

function few<T>(items: readonly T[]): { items: T[]; more: boolean } {
  return { items: items.slice(0, SHOWN_MAX), more: items.length > SHOWN_MAX };
}

async function findPeopleShown(tx: Transaction, q: string): Promise<Found['people']> {
  const ids = await peopleFound(tx, q, SHOWN_MAX + 1);
  const select = { id: true, name: true, email: true, phone: true };
  return few(inOrder(ids, await tx.person.findMany({ where: { id: { in: ids } }, select })));
}

async function findPiecesShown(tx: Transaction, q: string): Promise<Found['pieces']> {
  return few((await listedPieces(tx, await piecesFound(tx, q, SHOWN_MAX + 1))).map(foundPiece));
}

type Listed = Awaited<ReturnType<typeof listedPieces>>[number];
const foundPiece = ({ id, code, makerId, makerName, form, description, stage, boardName, courseTitle }: Listed) => ({
  ...{ id, code, makerId, makerName, form, description, stage, boardName, courseTitle },
});

async function findCoursesShown(tx: Transaction, now: Date, q: string): Promise<Found['courses']> {
  const courses = await coursesByIds(tx, now, await coursesFound(tx, q, SHOWN_MAX + 1));
  if (courses.length === 0) return few([]);
  const { timeZone } = await getStudio(tx);
  return few(
    courses.map(({ id, title, planName, state, sessions }) => ({
      ...{ id, title, planName, state, firstDay: localDay(new Date(sessions[0]?.startsAt ?? now), timeZone) },
    })),
  );
}

async function findPapersShown(tx: Transaction, q: string): Promise<Found['papers']> {
  return few((await listPapers(tx, PaperQuery.parse({ q, limit: SHOWN_MAX + 1 }))).items);
}

/** What was typed may be a code with one sign misread: the pieces whose codes it may have been, and which sign that is. */
async function mistyped(tx: Transaction, q: string): Promise<Found['mistypedCode']> {
  const meant = suggestCodes(q);
  if (meant.length === 0) return null;
  const rows = await tx.piece.findMany({
    where: { code: { in: meant.map(({ code }) => code) } },
    select: { id: true, code: true },
    orderBy: { code: 'asc' },
  });
  if (rows.length === 0) return null;
  const pieces = (
    await listedPieces(
      tx,
      rows.map(({ id }) => id),
    )
  ).map((piece) => ({
    ...foundPiece(piece),
    wrongSign: meant.find(({ code }) => code === piece.code)?.wrongSign ?? 1,
  }));
  const codes = pieces.map(({ code, wrongSign }) => `${code} (sign ${wrongSign} differs)`).join(', ');
  return { said: `“${q}” is not a code, but it may be a misread one: ${codes}. Read the foot again.`, pieces };
}
