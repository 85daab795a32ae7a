import { expect, test } from 'vitest';
import { meterKwh, predictedKwh } from '../../../src/trade/firing/energy.js';

const readings = (...kwh: string[]) => kwh.map((each) => ({ kwh: each }));

test('a firing took what the meter moved', () => {
  expect(meterKwh(readings('1204.7', '1238.2'))).toBe('33.5');
  expect(meterKwh(readings('0.1', '0.2', '0.2', '0.3'))).toBe('0.2'); // floats: 0.19999999999999998
});

test('refuses a meter that was read once, or not at all, or that falls', () => {
  expect(() => meterKwh([])).toThrow(/one after/);
  expect(() => meterKwh(readings('1204.7'))).toThrow(/one after/);
  expect(() => meterKwh(readings('1238.2', '1204.7'))).toThrow('The meter falls from 1238.2 to 1204.7 kWh.');
  expect(() => meterKwh(readings('10', '30', '20', '40'))).toThrow(/falls from 30 to 20/);
  expect(() => meterKwh(readings('10', 'x'))).toThrow(/^A meter reading/);
});

test('refuses to predict from nonsense', () => {
  expect(() => predictedKwh({ ratedKw: '5.5', hours: 8, dutyPercent: '101' })).toThrow(/^The duty/);
  expect(() => predictedKwh({ ratedKw: '', hours: 8, dutyPercent: '50' })).toThrow(/^The rated power/);
  expect(() => predictedKwh({ ratedKw: '5.5', hours: -1, dutyPercent: '50' })).toThrow(/^The hours/);
});
