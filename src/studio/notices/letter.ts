import { letterFor } from '../../mail/letters.js';
import type { Letter } from '../../mail/templates/letter.js';
import { tradingDisclosure } from '../../trade/text/trading-disclosure.js';
import type { getStudio } from '../settings/service.js';
import type { Notice } from './contract.js';

type Written = { occasion: Notice['occasion']; data: unknown; person: { name: string } };

/** The words of a message: the same whether it is sent or only read. */
export function letterOf(studio: Awaited<ReturnType<typeof getStudio>>, { occasion, data, person }: Written): Letter {
  const writer = { ...studio, legal: tradingDisclosure(studio) };
  return letterFor(occasion, data, { studio: writer, personName: person.name });
}
