import type { Caller } from './app.js';

/** Sends it and gives the answer's body; a refusal fails the test where it happens. */
export async function made<T extends { id: string }>(sender: Caller, url: string, body: unknown): Promise<T> {
  const answer = await sender.post(url, body);
  if (answer.statusCode >= 300) throw new Error(`${url}: ${answer.statusCode} ${answer.body}`);
  return answer.json();
}

/** A studio that is registered for VAT at 20 %, with a room, a refund policy and its tax rates. */
export async function studioFixture(owner: Caller, changes: Record<string, unknown> = {}) {
  const standard = await made(owner, '/api/tax-rates', { name: 'Standard', kind: 'standard', percent: '20' });
  const exempt = await made(owner, '/api/tax-rates', { name: 'Exempt', kind: 'exempt', percent: null });
  const answer = await owner.put('/api/studio', { ...STUDIO, firingTaxRateId: standard.id, ...changes });
  if (answer.statusCode !== 200) throw new Error(answer.body);
  const room = await made(owner, '/api/rooms', { name: 'Long room', benches: 10 });
  const refundPolicy = await made(owner, '/api/refund-policies', {
    name: 'Courses',
    refilledFeeMinor: 500,
    tiers: [
      { daysBefore: 28, refundPercent: '100' },
      { daysBefore: 14, refundPercent: '50' },
    ],
  });
  return { standard, exempt, room, refundPolicy };
}

export const STUDIO = {
  name: 'Alder Lane Pottery',
  addressLines: ['7 Alder Lane', 'Ostlemere'],
  email: 'hello@alderlane.example',
  phone: null,
  vatNumber: 'GB 123 4567 89',
  ...{ legalName: null, legalAddress: null, companyNumber: null, registeredIn: null },
  currency: 'GBP',
  locale: 'en-GB',
  timeZone: 'Europe/London',
  wagePerHourMinor: 2400,
  overheadPerHourMinor: 600,
  payFloorPerHourMinor: 1200,
  surplusPerHourMinor: 800,
  poorAtMost: '0.05',
  priceStepMinor: 500,
  cardPercent: '1.7',
  cardFixedMinor: 20,
  offcutsPercent: '10',
  remakesPercent: '15',
  reclaimedPercent: '8',
  glazeWastePercent: '10',
  inputVatPercent: '0',
  enrolmentAlpha: '9',
  enrolmentBeta: '3',
  storageDays: 28,
  collectWhere: ['7 Alder Lane, the shelf by the door'],
  collectWhen: ['Tuesdays and Thursdays, 10:00 to 17:00'],
  afterStorage: 'Work that is not collected by then is given away or recycled.',
  howToPay: 'By card or in cash when you collect.',
  howToPayCourses: 'By bank transfer, or by card or in cash at the studio.',
  directions: 'Ring at the green door in the yard.',
  invoiceLimitMinor: 25000,
  emptySpace: 'studio',
};

let people = 0;

/** Somebody new, with an address to write to. */
export async function personFixture(owner: Caller, name = `Ines Duval ${++people}`) {
  return made<{ id: string; name: string }>(owner, '/api/people', {
    name,
    email: `person${people}@example.org`,
    addressLines: ['3 Mill Row', 'Ostlemere'],
  });
}
