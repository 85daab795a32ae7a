import { expect, test, vi } from 'vitest';
import { whileReading } from '../../src/commands/while-reading.js';

const database = () => ({ close: vi.fn(async () => undefined) });

test('the code is read while the database opens, and both are handed on', async () => {
  const order: string[] = [];
  const opened = database();
  const opening = new Promise<typeof opened>((resolve) => {
    setImmediate(() => {
      order.push('opened');
      resolve(opened);
    });
  });
  const found = await whileReading(opening, async () => order.push('reading'));
  expect(found).toEqual([opened, 1]);
  expect(order).toEqual(['reading', 'opened']);
});

test('where the code can’t be read, the database is closed again', async () => {
  const opened = database();
  const reading = whileReading(Promise.resolve(opened), () => Promise.reject(new Error('no such file')));
  await expect(reading).rejects.toThrow('no such file');
  expect(opened.close).toHaveBeenCalledOnce();
});

test('where the database can’t be opened, that is the reason', async () => {
  const opening = Promise.reject<ReturnType<typeof database>>(new Error('no server listens there'));
  const reading = whileReading(opening, () => Promise.reject(new Error('no such file')));
  await expect(reading).rejects.toThrow('no server listens there');
});
