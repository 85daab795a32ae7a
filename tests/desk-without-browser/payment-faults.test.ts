import { describe, expect, test } from 'vitest';
import { faultsFrom, type NewPayment } from '../../src/desk/actions/payment/payment';
import { Refused } from '../../src/desk/api/client';

const PAYMENT: NewPayment = {
  ...{ personId: 'ines', method: 'cash' },
  for: [
    { chargeId: 'mugs', amountMinor: 100 },
    { chargeId: 'firing', amountMinor: 200 },
  ],
};
const SENTENCE = '"Two mugs" is already paid. If it was paid twice, refund it.';
const refused = (type: string, message: string, pointer?: string) =>
  faultsFrom(new Refused(type, message, pointer ? [{ pointer, detail: 'is wrong' }] : []), PAYMENT);

describe('what the API refused of a payment', () => {
  test('is told at the charge that it points to, whatever its sentence names', () => {
    const faults = refused('/problems/nothing-owed', SENTENCE, '#/for/1/chargeId');
    expect(faults).toEqual({ byCharge: { firing: SENTENCE }, voucher: '', whole: '' });
    const more = refused('/problems/more-than-owed', 'Take at most what is owed.', '#/for/0/amountMinor');
    expect(more.byCharge).toEqual({ mugs: 'Take at most what is owed.' });
  });

  test('is told by its detail where the sentence is about the whole request', () => {
    expect(refused('/problems/invalid-request', 'Correct it.', '#/for/0/amountMinor').byCharge).toEqual({
      mugs: 'is wrong',
    });
  });

  test('is told at the voucher by its pointer alone', () => {
    expect(refused('/problems/not-found', 'No voucher has it.', '#/voucherCode')).toEqual({
      ...{ byCharge: {}, voucher: 'No voucher has it.', whole: '' },
    });
    expect(refused('/problems/voucher-spent', 'Nothing is left.').voucher).toBe('');
  });

  test('is told of the whole where it points to nothing of the payment', () => {
    expect(refused('/problems/nothing-owed', SENTENCE)).toEqual({ byCharge: {}, voucher: '', whole: SENTENCE });
    expect(refused('/problems/nothing-owed', SENTENCE, '#/for/7/chargeId').whole).toBe(SENTENCE);
  });
});
