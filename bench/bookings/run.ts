// npm run bench:bookings: bookings and payments a second, against the same rows written by hand with pg, in turn, on one database.
// PAPERS_DATA=folder uses the invented studio that is kept there.
import { availableParallelism, cpus } from 'node:os';
import { figure } from '../figures.js';
import { openPapers } from '../papers/studio.js';
import { byHand } from './by-hand.js';
import { type Booked, furnish, PLACES, program } from './studio.js';

const AT_ONCE = 16;
const SECONDS = 3;
const ROUNDS = 5;
const GOAL = 0.5;

type Work = () => Promise<unknown>;

/** How often a second so many at once do a work. */
async function perSecond(work: Work, seconds = SECONDS): Promise<number> {
  const began = performance.now();
  let done = 0;
  const next = async () => {
    while (performance.now() - began < seconds * 1000) {
      await work();
      done++;
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, next));
  return (done * 1000) / (performance.now() - began);
}

const middle = (numbers: number[]) => [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN;

const studio = await openPapers(process.env.PAPERS_DATA);
const stock = await furnish(studio.url, { courses: 700, people: PLACES });
const ours = await program(studio.url);
const hand = byHand(studio.url);
type Book = typeof hand.book;

/** Fills so many courses at a time evenly, then the next. */
function filling(book: Book, atOnce: number): Work {
  let courses = stock.courses.splice(0, atOnce);
  let booked = 0;
  return () => {
    if (booked === atOnce * PLACES) {
      courses = stock.courses.splice(0, atOnce);
      booked = 0;
    }
    const n = booked++;
    const [course, person] = [courses[n % atOnce], stock.people[Math.floor(n / atOnce)]];
    if (!course || !person) throw new Error('All courses are full: make more.');
    return book(course, person);
  };
}

const owing = { ours: [] as Booked[], hand: [] as Booked[] };
const noting =
  (book: Book, list: Booked[]): Book =>
  async (course, person) => {
    const booked = await book(course, person);
    list.push({ chargeId: booked.chargeId, payerId: booked.payerId });
    return booked;
  };
const paying =
  (pay: (booked: Booked) => Promise<unknown>, list: Booked[]): Work =>
  () => {
    const next = list.shift();
    if (!next) throw new Error('Nothing more is owed.');
    return pay(next);
  };
const books = { ours: noting(ours.book, owing.ours), hand: noting(hand.book, owing.hand) };
const works: { what: string; ours: Work; hand: Work }[] = [
  { what: 'bookings of one course', ours: filling(books.ours, 1), hand: filling(books.hand, 1) },
  { what: 'bookings of 50 courses', ours: filling(books.ours, 50), hand: filling(books.hand, 50) },
  { what: 'payments with a receipt', ours: paying(ours.pay, owing.ours), hand: paying(hand.pay, owing.hand) },
];

console.log(`${availableParallelism()} processors: ${cpus()[0]?.model}; Node ${process.version}; ${AT_ONCE} at once\n`);
for (const work of works) for (const way of [work.ours, work.hand]) await perSecond(way, 1); // warm
const found = works.map(() => ({ ours: [] as number[], hand: [] as number[] }));
for (let round = 0; round < ROUNDS; round++)
  for (const [i, work] of works.entries()) {
    found[i]?.ours.push(await perSecond(work.ours));
    found[i]?.hand.push(await perSecond(work.hand));
  }
for (const [i, { what }] of works.entries()) {
  const { ours: our = [], hand: by = [] } = found[i] ?? {};
  const ratio = middle(our.map((one, round) => one / (by[round] ?? Number.NaN)));
  figure(what, `${ratio.toFixed(2)} of pg by hand, ${middle(our).toFixed(0)} a second`);
  console.log(
    `${what}: ${middle(our).toFixed(0)} a second, by hand with pg ${middle(by).toFixed(0)}: ratio ${ratio.toFixed(2)} (goal ${GOAL})`,
  );
}
await ours.close();
await hand.close();
await studio.stop();
