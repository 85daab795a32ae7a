import { beforeAll, describe, expect, test } from 'vitest';
import { ReceiptContent } from '../../../src/documents/receipt-content.js';
import { testApp } from '../../support/app.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture, STUDIO, studioFixture } from '../../support/fixtures.js';

const studio = await testApp();
const { db, owner } = studio;
const { standard } = await studioFixture(owner);
const { ask, sell, pay } = till(studio, standard.id);
const contentOf = async (documentId: string) =>
  ReceiptContent.parse((await db.document.findUniqueOrThrow({ where: { id: documentId } })).content);

// no font of the house has these letters
describe('a payer whose name has letters that papers lack', () => {
  test('is asked for a spelling when a paper needs it, and nothing is lost', async () => {
    const mei = await personFixture(owner, '林美');
    const chargeId = await ask(mei.id, 6000);
    const refused = await pay(mei.id, chargeId, 6000);
    expect(refused.json()).toMatchObject({
      ...{ type: '/problems/unprintable', status: 422, personId: mei.id },
      detail: expect.stringMatching(/“林美” has others\. Enter how papers should spell this name, then try again/),
    });
    expect(await db.payment.count({ where: { personId: mei.id } })).toBe(0);
    const { id, ...said } = (await owner.get(`/api/people/${mei.id}`)).json();
    expect((await owner.put(`/api/people/${id}`, { ...said, paperName: 'Lin Mei' })).statusCode).toBe(200);
    const paid = (await pay(mei.id, chargeId, 6000)).json();
    expect((await contentOf(paid.documentId)).payer.name).toBe('Lin Mei');
    expect((await owner.get(`/api/documents/${paid.documentId}/pdf`)).statusCode).toBe(200);
    // lists keep the name as it is written
    const { items } = (await owner.get('/api/receipts')).json();
    expect(items.map(({ personName }: { personName: string }) => personName)).toContain('林美');
  });

  test('has the second spelling on all papers, also where the first could be printed', async () => {
    const person = { name: 'Ines Duval', paperName: 'Dr I. Duval' };
    const { id } = await made<{ id: string }>(owner, '/api/people', person);
    const sold = await sell(id, 6000);
    expect((await contentOf(sold.receiptDocumentId)).payer.name).toBe('Dr I. Duval');
  });
});

describe('who is behind the studio', () => {
  beforeAll(async () => {
    const legal = { legalName: 'Ines Duval' };
    const answer = await owner.put('/api/studio', { ...STUDIO, firingTaxRateId: standard.id, ...legal });
    expect(answer.statusCode).toBe(200);
  });

  test('is frozen with each paper', async () => {
    const tomas = await personFixture(owner);
    const { documentId } = (await pay(tomas.id, await ask(tomas.id, 6000), 6000)).json();
    expect((await contentOf(documentId)).studio.legal).toBe(
      'Alder Lane Pottery is a business name of Ines Duval. Address for service: as above.',
    );
  });
});
