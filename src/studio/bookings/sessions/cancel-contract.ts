import { z } from 'zod';
import { Minor } from '../../../http/types.js';
import { MoneyMethod } from '../../accounts/contract.js';
import { Session } from '../../courses/contract.js';
import { AlsoTold, Concerned } from './concerned.js';

const GivenBack = Concerned.extend({
  backMinor: Minor.meta({ description: 'What is given back for the session.' }),
  offMinor: Minor.meta({ description: 'Of it, what comes off what is owed.' }),
  refundMinor: Minor,
  onVoucherMinor: Minor.meta({ description: 'Of the refund, what goes on the voucher that it was paid with.' }),
  method: MoneyMethod.nullable().meta({ description: 'How the rest of the refund is paid.' }),
  owedMinor: Minor.meta({ description: 'What is still owed after it.' }),
});
export type GivenBack = z.output<typeof GivenBack>;

export const SessionCancellation = z
  .object({
    session: Session,
    partMinor: Minor.meta({
      description: 'The session’s part of the price of a place, by its hours of all that the price was for.',
    }),
    concerned: z.array(GivenBack),
    alsoTold: AlsoTold,
    warnings: z.array(z.string()).meta({ description: 'What the sessions that are left then lack.' }),
    totals: z.object({ backMinor: Minor, offMinor: Minor, refundMinor: Minor, onVoucherMinor: Minor }),
  })
  .meta({ id: 'SessionCancellation' });
export type SessionCancellation = z.output<typeof SessionCancellation>;
