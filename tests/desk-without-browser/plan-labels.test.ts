import { describe, expect, test } from 'vitest';
import { makesInWords, sizeWord, timeInWords } from '../../src/desk/pages/courses/plans/labels.js';
import type { Plan } from '../../src/desk/pages/courses/plans/queries.js';
import { sizeFrom } from '../../src/trade/materials/vessel-shapes.js';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('the labels of plans', () => {
  test('counts pieces of one form together', () => {
    const of = (form: Plan['pieces'][number]['form'], perStudent: number) => ({ form, perStudent });
    expect(makesInWords([of('bowl', 2), of('mug', 1), of('bowl', 1)])).toBe('three bowls and a mug');
    expect(makesInWords([of('pinchPot', 2), of('box', 2)])).toBe('two pinch pots and two boxes');
  });

  test('knows the size that a word stands for from one that was measured', () => {
    expect(sizeWord('mug', sizeFrom('mug', 'small'))).toBe('small');
    expect(sizeWord('bowl', sizeFrom('mug', 'small'))).toBe(null);
  });

  test('tells minutes as hours', () => {
    expect([0, 45, 60, 150].map(timeInWords).map(plain)).toEqual(['0 min', '45 min', '1 h', '2 h 30 min']);
  });
});
