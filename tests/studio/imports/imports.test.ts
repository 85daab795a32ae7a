import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { listSender } from '../../support/fixtures/lists.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const at = await testApp();
const { db, owner, tutor } = at;
let send: Awaited<ReturnType<typeof listSender>>;
let sendAsTutor: Awaited<ReturnType<typeof listSender>>;
beforeAll(async () => {
  await studioFixture(owner);
  send = await listSender(at);
  sendAsTutor = await listSender(at, 'tutor@example.org');
});

const lines = (...rows: string[]) => `${rows.join('\r\n')}\r\n`;
const checked = async (kind: string, file: string | Buffer) => {
  const answer = await send(`/api/imports/${kind}/check`, file);
  expect(answer.statusCode, answer.body).toBe(200);
  return answer.json();
};
const problemsOf = async (kind: string, ...rows: string[]) => (await checked(kind, lines(...rows))).problems;
/** Rows in every table but the one that remembers requests. */
const counts = async () => {
  const tables = await db.$queryRaw<{ name: string }[]>`
    SELECT relname AS name FROM pg_class WHERE relkind = 'r' AND relnamespace = 'public'::regnamespace AND relname <> 'request_key'`;
  const entries = tables.map(async ({ name }) => {
    const [row] = await db.$queryRawUnsafe<{ n: number }[]>(`SELECT count(*)::integer AS n FROM "${name}"`);
    return [name, row?.n] as const;
  });
  return Object.fromEntries(await Promise.all(entries));
};

const PEOPLE = 'name,e-mail,phone,address,member since';
const MATERIALS = 'name,kind,unit,in a pack,days to come';
const LOTS = 'material,supplier,received on,quantity,cost';

describe('a list of people', () => {
  test('is told before anything is changed, and then brought whole', async () => {
    const file = lines(
      PEOPLE,
      'Odile Marsh,odile@example.org,07700 900123,"4 Pit Lane\nOstlemere",2024-02-29',
      ',,,,',
      'Bo Lindqvist,,,1 Ash Row | Ostlemere,',
    );
    const before = await counts();
    expect(await checked('people', file)).toEqual({
      rows: 2,
      adds: [
        { row: 2, what: 'Odile Marsh, odile@example.org' },
        { row: 4, what: 'Bo Lindqvist' },
      ],
      problems: [],
    });
    expect(await counts()).toEqual(before);
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => send('/api/imports/people', file, { key })));
    expect(answers.map(({ statusCode, body }) => [statusCode, body])).toEqual(Array(3).fill([201, '{"added":2}']));
    expect(await counts()).toEqual({ ...before, person: (before.person ?? 0) + 2 });
    expect(await db.person.findMany({ where: { name: { in: ['Odile Marsh', 'Bo Lindqvist'] } } })).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ addressLines: ['4 Pit Lane', 'Ostlemere'], memberSince: new Date('2024-02-29') }),
        expect.objectContaining({ email: null, phone: null, addressLines: ['1 Ash Row', 'Ostlemere'] }),
      ]),
    );
  });

  test('is refused with every problem by row and column, and nothing of it is written', async () => {
    const known = await personFixture(owner, 'Ida Reyl');
    const { email } = await db.person.findUniqueOrThrow({ where: { id: known.id } });
    const file = lines(
      PEOPLE,
      'Cleo Hart,cleo@example.org,,,',
      ',nobody,,,09/03/2026',
      'Cleo Hart,CLEO@example.org,,,',
      `Ida Reyl,${email},,,`,
      'Ida Reyl,another@example.org,,,',
      '陶,,,,', // a name in any script is kept
    );
    const before = await counts();
    const { problems } = await checked('people', file);
    expect(problems).toEqual([
      { row: 3, column: 'name', detail: 'is empty and needed. Write something such as Ines Duval.' },
      { row: 3, column: 'member since', detail: expect.stringMatching(/Write year-month-day, such as 2026-03-09\.$/) },
      { row: 4, column: null, detail: 'Row 2 says the same. Leave one of them out.' },
      { row: 5, column: null, detail: expect.stringMatching(/there already/) },
    ]);
    const answer = await send('/api/imports/people', file);
    expect(answer.json()).toMatchObject({
      ...{ type: '/problems/invalid-request', status: 422 },
      detail: "3 rows aren't right. Nothing was changed: correct the list and import it again.",
      errors: problems.map((problem: object) => expect.objectContaining(problem)),
    });
    expect(await counts()).toEqual(before);
  });

  test('brought by two at once stands there once', async () => {
    const file = lines(PEOPLE, ...Array.from({ length: 400 }, (_, i) => `Wren Alder,wren${i}@example.org,,,`));
    const answers = await Promise.all([1, 2, 3, 4].map(() => send('/api/imports/people', file)));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 422, 422, 422]);
    expect(await db.person.count({ where: { name: 'Wren Alder' } })).toBe(400);
  });

  test('takes what looks like a formula as the text that it is', async () => {
    await send('/api/imports/people', lines('name', '"=SUM(A1:A9)"'));
    expect(await db.person.count({ where: { name: '=SUM(A1:A9)' } })).toBe(1);
  });
});

describe('a list of materials', () => {
  test('takes words and numbers as people write them', async () => {
    const file = lines(
      `${MATERIALS};water percent;fires from degrees;fires to degrees;hazards;hazards stated on`.replaceAll(',', ';'),
      'Pit grey;Clay;g;12,5 kg;7;21,5;1200;1260;Dust harms the lungs;2025-06-01',
      'Shelf wash;Kiln wash;g;1000;3;;;;;',
    );
    expect((await send('/api/imports/materials', file)).json()).toEqual({ added: 2 });
    expect((await owner.get('/api/materials?limit=200')).json().items).toEqual(
      expect.arrayContaining([
        expect.objectContaining({
          ...{ name: 'Pit grey', kind: 'clay', packQuantity: 12_500, leadTimeDays: 7, waterPercent: '21.5' },
          ...{ firingRange: { fromC: 1200, toC: 1260 }, manufacturerStatement: null, onHand: 0 },
          hazardNote: { text: 'Dust harms the lungs', statedOn: '2025-06-01' },
        }),
        expect.objectContaining({ name: 'Shelf wash', kind: 'kilnWash', firingRange: null }),
      ]),
    );
  });

  test('says what a statement on food asks for, in a cell each, and what powders are', async () => {
    const file = lines(
      `${MATERIALS},fires from degrees,fires to degrees,use with food,use with food stated on,use with food coats,use with food way,use with food degrees`,
      'Reed clear,glaze,g,500,7,1200,1240,Suits tableware.,2025-06-01,2 to 3,Brushed,1210 to 1230',
      'Pool clear,glaze,g,500,7,1200,1240,Suits tableware.,2025-06-01,any,,',
      'Weir clear,glaze,g,500,7,1200,1240,Suits tableware.,2025-06-01,,,',
      'Potash feldspar,raw material,g,5000,7,,,,,,,',
      'Pit yellow,stain,g,100,7,,,,,,,',
    );
    expect((await send('/api/imports/materials', file)).json()).toEqual({ added: 5 });
    const said = async (name: string) => {
      const { items } = (await owner.get('/api/materials?limit=200')).json();
      const found = items.find((one: { name: string }) => one.name === name);
      return [found.kind, found.manufacturerStatement?.asks];
    };
    expect(await said('Reed clear')).toEqual([
      'glaze',
      { coats: { least: 2, most: 3 }, way: 'brushed', firing: { fromC: 1210, toC: 1230 } },
    ]);
    expect(await said('Pool clear')).toEqual(['glaze', { coats: null, way: null, firing: null }]);
    expect(await said('Weir clear')).toEqual(['glaze', null]);
    expect(await said('Potash feldspar')).toEqual(['rawMaterial', undefined]);
    expect(await said('Pit yellow')).toEqual(['stain', undefined]);
    const wrong = `${MATERIALS},use with food,use with food stated on,use with food coats,use with food way`;
    expect(
      await problemsOf(
        'materials',
        wrong,
        'A,glaze,g,500,7,Suits.,2025-06-01,some,',
        'B,glaze,g,500,7,Suits.,2025-06-01,3 to 2,',
        'C,glaze,g,500,7,Suits.,2025-06-01,,brushed',
      ),
    ).toEqual([
      { row: 2, column: 'use with food coats', detail: expect.stringMatching(/neither a number nor two/) },
      { row: 3, column: 'use with food coats', detail: 'must not be below least.' },
      { row: 4, column: 'use with food coats', detail: expect.stringMatching(/is empty, and needed here/) },
    ]);
  });

  test('meets the same rules as one that is added by hand', async () => {
    const { name } = await materialFixture(owner);
    const heading = `${MATERIALS},dry g in 1 ml,fires from degrees,fires to degrees,use with food,use with food stated on`;
    expect(
      await problemsOf(
        'materials',
        heading,
        `${name},clay,g,1000,7,,,,,`,
        'Slip A,slip,ml,500,400,,,,,',
        'Glaze A,glaze,ml,500,7,,,,,',
        'Clay B,clay,piece,5,7,,,,,',
        'Glaze B,glaze,g,500,7,,1260,1200,,',
        'Glaze C,glaze,g,500,7,,1200,,,',
        'Glaze D,glaze,g,500,7,,,,Suits tableware,2026-03-11',
        'Odd,gold,lb,5,7,,,,,',
        'Twice,wax,ml,"1,234",7,,,,,',
      ),
    ).toEqual([
      { row: 2, column: 'name', detail: expect.stringMatching(/there already/) },
      { row: 3, column: 'days to come', detail: expect.stringMatching(/365/) },
      { row: 4, column: 'dry g in 1 ml', detail: expect.stringMatching(/needed/) },
      { row: 5, column: 'unit', detail: 'must be "g": clay is weighed.' },
      { row: 6, column: 'fires to degrees', detail: 'must not be below fromC.' },
      { row: 7, column: 'fires to degrees', detail: expect.stringMatching(/is empty, and needed here/) },
      { row: 8, column: 'use with food stated on', detail: expect.stringMatching(/to today, 2026-03-10/) },
      { row: 9, column: 'kind', detail: expect.stringMatching(/is none of these: clay, glaze,.* kiln wash/) },
      { row: 9, column: 'unit', detail: '"lb" is none of these: g, ml, piece.' },
      { row: 9, column: 'in a pack', detail: expect.stringMatching(/with a unit/) },
      { row: 10, column: 'in a pack', detail: '"1,234" can be read in two ways. Write 1234 or 1.2340.' },
    ]);
  });
});

describe('a list of lots', () => {
  test('stands on the shelf as if each had been received by hand', async () => {
    const { id, name } = await materialFixture(owner);
    const file = lines(
      LOTS,
      `${name},Hollow Hill Clays,2026-03-03,12.5 kg,£18.50`,
      `${name},Pit Lane,2026-01-02,5000,"7,20"`,
    );
    expect((await send('/api/imports/lots', file)).json()).toEqual({ added: 2 });
    const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-03', quantity: 12_500, left: 12_500 };
    expect((await owner.get(`/api/materials/${id}/costs`)).json()).toMatchObject({
      worthMinor: 2570,
      lots: [
        { supplier: 'Pit Lane', costMinor: 720 },
        { ...lot, costMinor: 1850, leftWorthMinor: 1850 },
      ],
    });
    expect((await owner.get(`/api/materials/${id}`)).json()).toMatchObject({ onHand: 17_500, asksForCount: false });
  });

  test('is refused for money of another currency, a day to come, what is unknown and what is there', async () => {
    const { id, name } = await materialFixture(owner);
    await lotFixture(owner, id);
    const problems = await problemsOf(
      'lots',
      LOTS,
      `${name},Pit Lane,2026-03-03,5 kg,€18.50`,
      `${name},Pit Lane,2026-03-03,5 kg,18.50 USD`,
      `${name},Pit Lane,2026-03-03,5 kg,18.505 GBP`,
      `${name},Pit Lane,2026-03-11,5 kg,GBP 18`,
      `${name},Pit Lane,2026-02-30,5 l,-1`,
      'Nothing known,Pit Lane,2026-03-03,5 kg,18',
      `${name},Hollow Hill Clays,2026-03-03,12500,18.50`,
      `${name},Pit Lane,2026-03-03,0.5,0`,
    );
    expect(problems.map(({ row, column, detail }: Record<string, string>) => [row, column, detail])).toEqual([
      [2, 'cost', expect.stringMatching(/not in the studio's currency.*in GBP, such as 12\.50/)],
      [3, 'cost', expect.stringMatching(/not in the studio's currency/)],
      [4, 'cost', expect.stringMatching(/two ways/)],
      [5, 'received on', expect.stringMatching(/to today/)],
      [6, 'quantity', '"l" doesn\'t fit: this is counted in g or kg.'],
      [6, 'cost', expect.stringMatching(/can't be read as a number/)],
      [7, 'material', expect.stringMatching(/No material is named "Nothing known"\. Add it first/)],
      [7, 'quantity', expect.stringMatching(/with a material that is known/)],
      [8, null, expect.stringMatching(/A lot that says the same is there already/)],
      [9, 'quantity', '"0.5" isn\'t whole: it is counted in whole g.'],
    ]);
  });
});

describe('who may bring what', () => {
  test('goes by the rights that adding one takes', async () => {
    expect(
      (await sendAsTutor('/api/imports/materials/check', lines(MATERIALS, 'Tutor wax,wax,ml,5,7'))).statusCode,
    ).toBe(200);
    for (const url of ['people', 'lots', 'people/check', 'lots/check'])
      expect((await sendAsTutor(`/api/imports/${url}`, 'x')).statusCode, url).toBe(403);
    expect((await tutor.get('/api/imports/lots')).statusCode).toBe(403);
  });

  test('the columns are told, and an empty list holds the headings alone', async () => {
    for (const kind of ['people', 'materials', 'lots']) {
      const { columns, rowsMax } = (await owner.get(`/api/imports/${kind}`)).json();
      expect(rowsMax).toBe(5000);
      const empty = await owner.get(`/api/imports/${kind}.csv`);
      expect(empty.headers['content-type']).toBe('text/csv; charset=utf-8');
      expect(empty.body.replace(/["\ufeff]/g, '')).toBe(
        `${columns.map(({ heading }: { heading: string }) => heading).join(',')}\r\n`,
      );
      expect((await checked(kind, empty.body)).problems).toEqual([
        { row: 2, column: null, detail: 'There is nothing under the headings. Fill in a row for each.' },
      ]);
      // the examples are ones that can be read
      const example = columns.map((column: { example: string }) => column.example);
      const { problems } = await checked(
        kind,
        `${empty.body}${example.map((text: string) => `"${text}"`).join(',')}\r\n`,
      );
      expect(problems.filter(({ detail }: { detail: string }) => !/No material|that is known/.test(detail))).toEqual(
        kind === 'materials' ? [expect.objectContaining({ column: 'dry g in 1 ml' })] : [],
      );
    }
  });
});
