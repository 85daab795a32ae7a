import { describe, expect, test } from 'vitest';
import { RULES } from '../tidy/rules.js';

/** What all rules together say of one file. */
const said = (path: string, source: string) =>
  RULES.flatMap((rule) => rule.complaints(path, source, { has: () => false, text: () => undefined }));

describe('a route', () => {
  const ROUTES = 'src/studio/ware/routes.ts';
  const MESSAGE = 'this reads without a snapshot: go through read() of src/http/read.ts';

  test.each([
    "app.get('/pieces', (request) => listPieces(app.db, request.query));",
    "app.get('/pieces', (request) => listPieces(request.server.db, request.query));",
    "app.get('/pieces', ({ server: { db } }) => listPieces(db));",
    'const today = () => findStudio(app.db);',
    'const { db } = app;',
  ])('does not read past its snapshot: %s', (source) =>
    expect(said(ROUTES, source)).toEqual([`${ROUTES}:1 ${MESSAGE}`]),
  );

  test.each([
    "app.get('/pieces', (request) => read(request, (tx) => listPieces(tx, request.query)));",
    "app.post('/sign-in', async (request) => signIn(app.db, request.body));",
  ])('may be as it is: %s', (source) => expect(said(ROUTES, source)).toEqual([]));
});

describe('a sentence for the owner', () => {
  const SERVICE = 'src/studio/kilns/service.ts';
  const said4 = (text: string) => [
    `${SERVICE}:1 "${text}" stands in a sentence that reaches people: name the page, the button or the thing`,
  ];

  test.each([
    ["throw new Problem('not-found', 'No kiln has this id. Look it up under /api/kilns.');", '/api/'],
    [`throw new Problem('wrong-state', \`Firing \${number}: POST /firings/{id}/settlement.\`);`, 'POST /'],
    ["const advice = 'Send PUT /materials first.';", 'PUT /'],
    ["const detail = 'Take at most what owedMinor says.';", 'owedMinor'],
    ["const detail = 'Say in `method` how.';", '`method`'],
    ["const Kiln = z.int({ error: 'must equal widthMm here' });", 'widthMm'],
  ])('names no address and no field: %s', (source, found) => expect(said(SERVICE, source)).toEqual(said4(found)));

  test.each([
    "const kiln = see('kilns', '/api/kilns');",
    "const schema = { summary: 'Kilns, as POST /api/kilns made them', description: 'See GET /kiln-fills and widthMm.' };",
    "const detail = 'It drew 34 kWh.';",
    "const field = 'widthMm';",
  ])('may stand beside: %s', (source) => expect(said(SERVICE, source)).toEqual([]));
});
