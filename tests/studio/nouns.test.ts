import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { declareRefusals, describeProblem } from '../../src/problems.js';
import { INVARIANTS, NOUNS } from '../../src/studio/nouns.js';

const folders = readdirSync('src/studio', { withFileTypes: true }).filter((entry) => entry.isDirectory());

test('each folder of the studio is a noun, and brings all its own', async () => {
  expect(NOUNS).toHaveLength(folders.length);
  for (const { name } of folders) {
    const { noun } = await import(`../../src/studio/${name}/noun.ts`);
    expect(NOUNS, name).toContain(noun);
    const files = readdirSync(`src/studio/${name}`, { recursive: true }).map(String);
    expect(files.includes('invariants.ts'), name).toBe('invariants' in noun);
    expect(readFileSync(`src/studio/${name}/noun.ts`, 'utf8').startsWith("import './refusals.js';"), name).toBe(
      files.includes('refusals.ts'),
    );
    expect(
      files.filter((file) => file.endsWith('routes.ts')),
      name,
    ).toHaveLength(noun.routes.length);
  }
});

test('a refusal is known by its name once, and found at its address', () => {
  expect(describeProblem('voucher-spent')?.status).toBe(409);
  expect(() => declareRefusals({ 'voucher-spent': { status: 409, title: 'Another' } })).toThrow(/declared twice/);
  expect(describeProblem('voucher-spent')?.title).not.toBe('Another');
});

test('no invariant is lost or told twice', () => {
  expect(INVARIANTS.length).toBeGreaterThanOrEqual(35);
  expect(new Set(INVARIANTS.map(({ name }) => name)).size).toBe(INVARIANTS.length);
});
