import { describe, expect, test } from 'vitest';
import { renderOrder } from '../../src/documents/order.js';
import { OrderContent } from '../../src/documents/order-content.js';
import { layoutFaults, readBack, rolesIn } from './read-back.js';
import { LONG_NAME, registered } from './samples.js';

const line = { name: 'Ostlemere buff stoneware', pack: '12.5 kg', packs: 4, packPriceMinor: 1850, amountMinor: 7400 };
const order: OrderContent = {
  studio: registered,
  currency: 'GBP',
  locale: 'en-GB',
  language: 'en',
  number: '0007',
  placedOn: '2026-03-12',
  expectedOn: '2026-03-20',
  supplier: { name: 'Hollow Hill Clays', addressLines: ['4 Pit Lane', 'Ostlemere'] },
  lines: [line, { name: 'Moss satin', pack: '500 ml', packs: 2, packPriceMinor: 1200, amountMinor: 2400 }],
  carriageMinor: 950,
  totalMinor: 10_750,
  note: 'Ring before you come.',
};
const read = async (content: OrderContent) => readBack(await renderOrder(content));

describe('an order', () => {
  test('says what, in which packs, at which price, for whom and by when', async () => {
    const { text, info, pages } = await read(order);
    for (const words of [
      'Order 0007 £107.50 2 items. Please deliver by Friday 20 March 2026.',
      'Item Pack size Quantity Price each Amount',
      'To Hollow Hill Clays 4 Pit Lane Ostlemere',
      'Ostlemere buff stoneware 12.5 kg 4 £18.50 £74.00',
      'Moss satin 500 ml 2 £12.00 £24.00',
      'Carriage £9.50',
      'Total £107.50',
      'Ring before you come.',
    ])
      expect(text.replaceAll('\u00a0', ' ').replace(/\s+/g, ' ')).toContain(words);
    expect(info).toMatchObject({ Title: 'Order 0007', Language: 'en' });
    expect(rolesIn(pages, 'TR')).toBe(5);
    expect(layoutFaults(pages)).toEqual([]);
  });

  test('has the same bytes twice, and takes many lines with long names', async () => {
    expect(await renderOrder(order)).toEqual(await renderOrder(order));
    const lines = Array.from({ length: 60 }, () => ({ ...line, name: LONG_NAME }));
    const { pages, text } = await read({ ...order, lines, carriageMinor: 0, totalMinor: 60 * 7400 });
    expect([pages.length > 1, layoutFaults(pages)]).toEqual([true, []]);
    expect(text.replace(/\s+/g, ' ')).toContain('Carriage free');
  });

  test('is refused where it does not add up', () => {
    expect(OrderContent.safeParse({ ...order, totalMinor: 10_749 }).success).toBe(false);
    expect(OrderContent.safeParse({ ...order, lines: [{ ...line, amountMinor: 1 }], totalMinor: 951 }).success).toBe(
      false,
    );
    expect(OrderContent.safeParse(order).success).toBe(true);
  });
});
