import { describe, expect, test } from 'vitest';
import { RULES } from '../tidy/rules.js';

/** What all rules together say of one file. */
const said = (path: string, source: string) =>
  RULES.flatMap((rule) => rule.complaints(path, source, { has: () => false, text: () => undefined }));

describe('fields', () => {
  const HAND = 'export const Row = () => (\n  <label class="field">\n    <input />\n  </label>\n);\n';
  test('a label outside src/desk/forms is refused', () => {
    expect(said('src/desk/pages/ware/list/row.tsx', HAND)).toEqual([
      'src/desk/pages/ware/list/row.tsx:2 use Field, CheckboxField, ChoiceField, FileField, PictureInput or Slider',
    ]);
    expect(said('src/desk/pages/ware/row.tsx', 'const a = <label for={id} />;\n')).toHaveLength(1);
    expect(said('src/desk/forms/row.tsx', HAND)).toEqual([]);
    expect(said('src/desk/pages/ware/row.tsx', 'const a = <Field label="Name" />; // <label>\n')).toEqual([]);
  });
});

test('a limit typed on a page is refused', () => {
  const field = (limit: string) => said('src/desk/pages/ware/row.tsx', `const a = <Field label="Note" ${limit} />;\n`);
  expect(field('maxLength={500}')).toEqual([
    'src/desk/pages/ware/row.tsx:1 take the limit from limits.json: limitOf, or form.field',
  ]);
  expect(field('max={12}')).toHaveLength(1);
  expect(field('maxLength={limitOf(request, at).maxLength}')).toEqual([]);
});
